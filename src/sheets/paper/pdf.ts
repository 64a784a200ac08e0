import {
  appendBezierCurve,
  beginText,
  closePath,
  concatTransformationMatrix,
  endPath,
  endText,
  fill,
  fillAndStroke,
  LineCapStyle,
  LineJoinStyle,
  lineTo,
  moveTo,
  PDFDict,
  PDFDocument,
  type PDFFont,
  PDFName,
  type PDFOperator,
  PDFString,
  PrintScaling,
  popGraphicsState,
  pushGraphicsState,
  StandardFonts,
  setDashPattern,
  setFillingGrayscaleColor,
  setFontAndSize,
  setLineCap,
  setLineJoin,
  setLineWidth,
  setStrokingGrayscaleColor,
  setTextMatrix,
  showText,
  stroke as strokeIt,
} from '@cantoo/pdf-lib';
import { plainText } from './characters.ts';
import { type Align, type Fill, type Ink, type Page, type Sheet, STROKES, type Stroke } from './page.ts';
import { readPath, type Step } from './path.ts';
import { GREYS } from './svg.ts';
import { MM_PER_POINT, textWidth } from './type.ts';

/*
 * Sheets as one PDF: true to scale, text as text in the standard fonts, viewers told not to scale when printing. No
 * clock: the date is given, so that the same sheets make the same bytes.
 */

const POINTS_PER_MM = 1 / MM_PER_POINT;
/** Distance of a Bézier curve's handles from a quarter circle's ends, as a share of the radius. */
const QUARTER = 0.5522847498;

interface Fonts {
  readonly plain: PDFFont;
  readonly bold: PDFFont;
}

function stroked(stroke: Stroke | null): PDFOperator[] {
  if (stroke === null) return [];
  const { width, dash } = STROKES[stroke];
  return [setStrokingGrayscaleColor(0), setLineWidth(width), setDashPattern([...dash], 0)];
}

const filled = (f: Fill): PDFOperator[] => (f === 'none' ? [] : [setFillingGrayscaleColor(GREYS[f])]);
function painted(stroke: Stroke | null, f: Fill): PDFOperator {
  if (f === 'none') return stroke ? strokeIt() : endPath();
  return stroke ? fillAndStroke() : fill();
}

function stepOperator(step: Step): PDFOperator {
  switch (step[0]) {
    case 'M':
      return moveTo(step[1], step[2]);
    case 'L':
      return lineTo(step[1], step[2]);
    case 'C':
      return appendBezierCurve(step[1], step[2], step[3], step[4], step[5], step[6]);
    case 'Z':
      return closePath();
  }
}

/** A circle as four Bézier curves, from its right clockwise on the page. */
function circleOf({ x, y, r }: Extract<Ink, { kind: 'circle' }>): PDFOperator[] {
  const k = QUARTER * r;
  return [
    moveTo(x + r, y),
    appendBezierCurve(x + r, y + k, x + k, y + r, x, y + r),
    appendBezierCurve(x - k, y + r, x - r, y + k, x - r, y),
    appendBezierCurve(x - r, y - k, x - k, y - r, x, y - r),
    appendBezierCurve(x + k, y - r, x + r, y - k, x + r, y),
    closePath(),
  ];
}

/** Share of a text's width that lies before the point it stands at. */
const BEFORE: Readonly<Record<Align, number>> = { start: 0, middle: 0.5, end: 1 };

function inkOperators(ink: Ink, fonts: Fonts): PDFOperator[] {
  if (ink.kind === 'text') return textOperators(ink, fonts);
  const outline = ink.kind === 'circle' ? circleOf(ink) : readPath(ink.d).map(stepOperator);
  return [...stroked(ink.stroke), ...filled(ink.fill), ...outline, painted(ink.stroke, ink.fill)];
}

function textOperators(ink: Extract<Ink, { kind: 'text' }>, fonts: Fonts): PDFOperator[] {
  const text = plainText(ink.text);
  if (text.trim() === '') return [];
  const font = ink.bold ? fonts.bold : fonts.plain;
  const width = BEFORE[ink.align ?? 'start'] * textWidth(text, { size: ink.size, bold: ink.bold ?? false });
  const turn = ((ink.turn ?? 0) * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  // The page's y runs down and letters' up: the text's own axes are (c, -s) along the line and (-s, -c) up.
  return [
    setFillingGrayscaleColor(ink.white ? 1 : 0),
    beginText(),
    setFontAndSize(font.name, ink.size * MM_PER_POINT),
    setTextMatrix(c, -s, -s, -c, ink.x - width * c, ink.y + width * s),
    showText(font.encodeText(text)),
    endText(),
  ];
}

function addPage(pdf: PDFDocument, { paper, ink }: Page, fonts: Fonts): void {
  const page = pdf.addPage([paper.width * POINTS_PER_MM, paper.height * POINTS_PER_MM]);
  for (const font of [fonts.plain, fonts.bold]) page.node.setFontDictionary(PDFName.of(font.name), font.ref);
  page.pushOperators(
    pushGraphicsState(),
    concatTransformationMatrix(POINTS_PER_MM, 0, 0, -POINTS_PER_MM, 0, paper.height * POINTS_PER_MM),
    setLineCap(LineCapStyle.Butt),
    setLineJoin(LineJoinStyle.Round),
    ...ink.flatMap((i) => inkOperators(i, fonts)),
    popGraphicsState(),
  );
}

/**
 * One PDF of one or more sheets. `date` is that of the print, `2026-05-16`; it goes into the file's own description.
 */
export async function sheetsPdf(
  sheets: readonly Sheet[],
  { title, date }: { readonly title: string; readonly date: string },
): Promise<Uint8Array> {
  const pdf = await PDFDocument.create({ updateMetadata: false });
  const fonts: Fonts = {
    plain: await pdf.embedFont(StandardFonts.Helvetica),
    bold: await pdf.embedFont(StandardFonts.HelveticaBold),
  };
  pdf.setTitle(plainText(title), { showInWindowTitleBar: true });
  pdf.setProducer('Ribtrue');
  pdf.setLanguage('en');
  const day = /^(\d{4})-(\d{2})-(\d{2})/.exec(date);
  if (day)
    pdf.context
      .lookup(pdf.context.trailerInfo.Info, PDFDict)
      .set(PDFName.of('CreationDate'), PDFString.of(`D:${day[1]}${day[2]}${day[3]}000000Z`));
  pdf.catalog.getOrCreateViewerPreferences().setPrintScaling(PrintScaling.None);
  for (const sheet of sheets) for (const page of sheet.pages) addPage(pdf, page, fonts);
  return pdf.save({ addDefaultPage: false });
}
