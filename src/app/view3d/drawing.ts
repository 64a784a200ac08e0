/** Whether the page is looked at by a test: then it draws without smooth edges, and says what it draws. */
export const inTest = (): boolean =>
  typeof location !== 'undefined' && new URLSearchParams(location.search).has('test');

/** Whether this browser draws in 3D at all. */
export function canDraw(): boolean {
  try {
    return document.createElement('canvas').getContext('webgl2') !== null;
  } catch {
    return false;
  }
}
