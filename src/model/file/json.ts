/* The text of a file read as JSON; where it is none, one sentence says what it looks like instead. */

/** Where the JSON reader says it stopped, counted in characters, or undefined. */
function positionOf(message: string): number | undefined {
  const at = /position (\d+)/.exec(message)?.[1];
  return at === undefined ? undefined : Number(at);
}

/** Line and column of a fault that the JSON reader reports by position, or nothing. */
function placeOf(message: string, text: string): string {
  const at = positionOf(message);
  if (at === undefined) return '';
  return lineAt(text, at);
}

/** Line and column of a place in a text, as a sentence goes on: " at line 3, column 7". */
export function lineAt(text: string, at: number): string {
  const before = text.slice(0, at);
  return ` at line ${before.split('\n').length}, column ${before.length - before.lastIndexOf('\n')}`;
}

/**
 * A control character that no text has, or the mark of bytes that are no characters; tabs and line ends are neither.
 */
const noText = (c: string): boolean => c === '\ufffd' || c === '\x7f' || (c < ' ' && !/\s/.test(c));

/** Whether it begins as no text does. */
const binary = (text: string): boolean => text.startsWith('%PDF-') || [...text.slice(0, 64)].some(noText);

/** Why a text that is no JSON is none, in one sentence. */
function notJson(text: string, message: string): string {
  const trimmed = text.trimEnd();
  if (trimmed === '') return 'the file is empty; expected a panel file; choose another';
  if (!/^\s*[{[]/.test(text)) {
    if (binary(text))
      return 'this is a picture, a PDF or another binary file, not a panel file; expected plain text that starts with "{"; choose another';
    const start = trimmed.slice(0, 20).replace(/[^\x20-\x7e]/g, '?');
    return `the file is of another kind: it starts with "${start}"; expected a panel file, which starts with "{"; choose another`;
  }
  const stops = positionOf(message) ?? 0;
  const cut = /end of JSON|Unterminated/i.test(message) || !/[}\]]$/.test(trimmed) || stops >= trimmed.length;
  return cut
    ? 'the file stops in the middle: the last brackets are missing; expected a whole panel file; take the saved copy or an earlier one'
    : `the file is not valid JSON${placeOf(message, text)}; expected a comma, bracket or quote there; correct it in a text editor`;
}

/** A file's text read as JSON, or why it is none. */
export function readJson(
  text: string,
): { readonly ok: true; readonly file: unknown } | { readonly ok: false; readonly sentence: string } {
  try {
    return { ok: true, file: JSON.parse(text) };
  } catch (e) {
    return { ok: false, sentence: notJson(text, e instanceof Error ? e.message : '') };
  }
}
