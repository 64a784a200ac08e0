/** A text as it begins a sentence or a line: `the webs at S8` is `The webs at S8`. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
