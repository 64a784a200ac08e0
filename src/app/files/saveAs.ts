/** Hands a text, or the bytes of a file, to the person as a file of that name. */
export function saveAs(content: string | Uint8Array, name: string, type: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([content as BlobPart], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000);
}

/** A panel's name as part of a file's name. */
export function fileStem(name: string): string {
  return name.replace(/[^\w-]+/g, '-');
}
