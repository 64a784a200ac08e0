/** A point of a drawing, in its own units from its upper left corner. */
export type Spot = readonly [across: number, down: number];

/** A size pointed at: a line with an arrow at each end, and its number. */
export interface Arrow {
  readonly a: Spot;
  readonly b: Spot;
  readonly text: string;
  /** An upright arrow's number stands to its left. */
  readonly left?: boolean;
}

const HEAD = 10;
/** Half of what an arrowhead is open, radians. */
const OPEN = 0.4;

/** The head of an arrow whose line goes on at an angle from its tip, radians. */
function head([x, y]: Spot, turn: number): string {
  const barb = (t: number): string => `${x + HEAD * Math.cos(t)} ${y + HEAD * Math.sin(t)}`;
  return `M${barb(turn + OPEN)} L${x} ${y} L${barb(turn - OPEN)}`;
}

export function Dimension({ a, b, text, left = false }: Arrow) {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const turn = Math.atan2(dy, dx);
  const [mx, my] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const side = left ? ({ x: mx - 10, anchor: 'end' } as const) : ({ x: mx + 10, anchor: 'start' } as const);
  const upright = Math.abs(dy) > Math.abs(dx);
  const at = upright ? { ...side, y: my + 5 } : ({ x: mx, y: my - 8, anchor: 'middle' } as const);
  return (
    <g className="pointed">
      <path d={`M${a[0]} ${a[1]} L${b[0]} ${b[1]} ${head(a, turn)} ${head(b, turn + Math.PI)}`} />
      <text x={at.x} y={at.y} textAnchor={at.anchor}>
        {text}
      </text>
    </g>
  );
}
