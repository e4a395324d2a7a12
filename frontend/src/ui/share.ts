/** Hands a text to another app, or to the clipboard, or to a file: whichever this phone allows. Returns what happened. */
export async function share(text: string): Promise<string> {
  try {
    if (navigator.share) {
      await navigator.share({ title: "Mangerline", text });
      return "share.shared";
    }
    await navigator.clipboard.writeText(text);
    return "share.copied";
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") return "share.stopped";
    return toFile(text);
  }
}

export function toFile(text: string): string {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
  link.download = "mangerline.txt";
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return "share.file";
}
