/** Hands bytes to the browser's own download. */
export function download(name: string, mimeType: string, bytes: Uint8Array): void {
  const address = URL.createObjectURL(new Blob([bytes.slice()], { type: mimeType }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
