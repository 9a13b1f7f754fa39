/** Has the browser save a text as a file. */
export function saveText(name: string, mediaType: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: mediaType }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name.replace(/[/\\]/g, '-');
  link.click();
  URL.revokeObjectURL(address);
}
