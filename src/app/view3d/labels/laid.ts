/** Puts numbers into a drawn line, to a tenth of a pixel: `placed(line, { x1: 10, y1: 20 })`. */
export function placed(line: Element | null | undefined, numbers: Readonly<Record<string, number>>): void {
  for (const [name, value] of Object.entries(numbers)) line?.setAttribute(name, value.toFixed(1));
}

/** Shows an element, or hides it and takes it out of the tab order. */
export function seen(element: HTMLElement | SVGElement, visible: boolean): void {
  element.style.visibility = visible ? 'visible' : 'hidden';
}
