/** Hands a text to another app or to the clipboard; says what happened, "" where this phone allows neither. */
export async function offer(text: string): Promise<string> {
  try {
    if (navigator.share) {
      await navigator.share({ title: "Mangerline", text });
      return "share.shared";
    }
    await navigator.clipboard.writeText(text);
    return "share.copied";
  } catch (error) {
    return error instanceof DOMException && error.name === "AbortError" ? "share.stopped" : "";
  }
}

/** The same, and to a file where nothing else is allowed. */
export async function share(text: string): Promise<string> {
  return (await offer(text)) || toFile(text);
}

/** Named by the day, so that a second one does not take the place of the first. */
export function entriesFile(): string {
  return `mangerline-entries-${new Date().toISOString().slice(0, 16).replace(":", "")}.txt`;
}

export function toFile(text: string, name = "mangerline.txt"): string {
  download(new Blob([text], { type: "text/plain" }), name);
  return "share.file";
}

export function download(file: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
