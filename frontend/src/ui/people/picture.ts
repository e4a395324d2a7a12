const NAMESPACE = "http://www.w3.org/2000/svg";

/** A drawing as the address of an image. By itself it says what it is; within a page it need not. */
export function asImage(svg: string): string {
  const whole = svg.includes(NAMESPACE) ? svg : svg.replace("<svg", `<svg xmlns="${NAMESPACE}"`);
  return `data:image/svg+xml,${encodeURIComponent(whole)}`;
}
