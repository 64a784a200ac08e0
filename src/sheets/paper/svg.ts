import { basisText } from '../../checks/basis.ts';
import { plainText } from './characters.ts';
import { type Fill, type Ink, type Page, STROKES, type Stroke } from './page.ts';
import { MM_PER_POINT, textWidth } from './type.ts';

/** Greys of both writers, 0 black to 1 white; each is told apart in black and white by its outline too. */
export const GREYS: Readonly<Record<Exclude<Fill, 'none'>, number>> = { paper: 1, light: 0.88, dark: 0.6, ink: 0 };

/** A number of mm with at most four decimals. */
const n = (v: number): string => String(Math.round(v * 1e4) / 1e4 || 0);
const grey = (fill: Fill): string =>
  fill === 'none'
    ? 'none'
    : `#${Math.round(GREYS[fill] * 255)
        .toString(16)
        .padStart(2, '0')
        .repeat(3)}`;
const escaped = (text: string): string =>
  text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');

function lines(stroke: Stroke | null): string {
  if (stroke === null) return '';
  const { width, dash } = STROKES[stroke];
  return ` stroke="#000" stroke-width="${width}"${dash.length > 0 ? ` stroke-dasharray="${dash.join(' ')}"` : ''}`;
}

function inkSvg(ink: Ink): string {
  switch (ink.kind) {
    case 'path':
      return `<path d="${escaped(ink.d)}" fill="${grey(ink.fill)}"${lines(ink.stroke)}${ink.means ? `><title>${basisText(ink.means)}</title></path>` : '/>'}`;
    case 'circle':
      return `<circle cx="${n(ink.x)}" cy="${n(ink.y)}" r="${n(ink.r)}" fill="${grey(ink.fill)}"${lines(ink.stroke)}/>`;
    case 'text': {
      const text = plainText(ink.text);
      if (text.trim() === '') return '';
      // Held to its width, so that a viewer with another font lays it out alike.
      const width = textWidth(text, { size: ink.size, bold: ink.bold ?? false });
      const turn = ink.turn ? ` transform="rotate(${n(-ink.turn)} ${n(ink.x)} ${n(ink.y)})"` : '';
      return `<text x="${n(ink.x)}" y="${n(ink.y)}" font-size="${n(ink.size * MM_PER_POINT)}"${ink.bold ? ' font-weight="bold"' : ''}${ink.align && ink.align !== 'start' ? ` text-anchor="${ink.align}"` : ''}${ink.white ? ' fill="#fff"' : ''} textLength="${n(width)}" lengthAdjust="spacingAndGlyphs"${turn}>${escaped(text)}</text>`;
    }
  }
}

/** A page as an SVG file's text: true to scale in mm, text as text. */
export function pageSvg({ paper, ink }: Page): string {
  const [w, h] = [n(paper.width), n(paper.height)];
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${w}mm" height="${h}mm" viewBox="0 0 ${w} ${h}" font-family="Helvetica, Arial, 'Liberation Sans', sans-serif" fill="#000" stroke-linecap="butt" stroke-linejoin="round" xml:space="preserve">\n<rect width="${w}" height="${h}" fill="#fff"/>\n${ink
    .map(inkSvg)
    .filter((s) => s !== '')
    .join('\n')}\n</svg>\n`;
}
