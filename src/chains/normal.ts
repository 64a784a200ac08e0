/**
 * The normal distribution: the chance that a size with standard uncertainty lies below a threshold, and back.
 *
 * `chance` uses a rational series for erfc (W. J. Cody, Math. Comp. 23 (1969)), good to about 1e-15;
 * `quantile` is M. Wichura's algorithm AS 241, Appl. Stat. 37 (1988), good to about 1e-16.
 */

const P1 = [
  3.1611237438705656, 1.13864154151050156e2, 3.77485237685302021e2, 3.20937758913846947e3, 1.85777706184603153e-1,
];
const Q1 = [2.36012909523441209e1, 2.44024637934444173e2, 1.28261652607737228e3, 2.84423683343917062e3];
const P2 = [
  5.64188496988670089e-1, 8.88314979438837594, 6.61191906371416295e1, 2.98635138197400131e2, 8.8195222124176909e2,
  1.71204761263407058e3, 2.05107837782607147e3, 1.23033935479799725e3, 2.15311535474403846e-8,
];
const Q2 = [
  1.57449261107098347e1, 1.17693950891312499e2, 5.37181101862009858e2, 1.62138957456669019e3, 3.29079923573345963e3,
  4.36261909014324716e3, 3.43936767414372164e3, 1.23033935480374942e3,
];
const P3 = [
  3.05326634961232344e-1, 3.60344899949804439e-1, 1.25781726111229246e-1, 1.60837851487422766e-2,
  6.58749161529837803e-4, 1.63153871373020978e-2,
];
const Q3 = [
  2.56852019228982242, 1.87295284992346047, 5.27905102951428412e-1, 6.05183413124413191e-2, 2.33520497626869185e-3,
];

function erfcPositive(y: number): number {
  if (y <= 0.46875) {
    const z = y * y;
    let num = P1[4]! * z;
    let den = z;
    for (let i = 0; i < 3; i++) {
      num = (num + P1[i]!) * z;
      den = (den + Q1[i]!) * z;
    }
    return 1 - (y * (num + P1[3]!)) / (den + Q1[3]!);
  }
  let r: number;
  if (y <= 4) {
    let num = P2[8]! * y;
    let den = y;
    for (let i = 0; i < 7; i++) {
      num = (num + P2[i]!) * y;
      den = (den + Q2[i]!) * y;
    }
    r = (num + P2[7]!) / (den + Q2[7]!);
  } else {
    const z = 1 / (y * y);
    let num = P3[5]! * z;
    let den = z;
    for (let i = 0; i < 4; i++) {
      num = (num + P3[i]!) * z;
      den = (den + Q3[i]!) * z;
    }
    r = (z * (num + P3[4]!)) / (den + Q3[4]!);
    r = (1 / Math.sqrt(Math.PI) - r) / y;
  }
  const cut = Math.trunc(y * 16) / 16;
  return Math.exp(-cut * cut) * Math.exp(-(y - cut) * (y + cut)) * r;
}

/** Chance that a standard normal lies below z. `chance(1)` = 0.841344746068543. */
export function chance(z: number): number {
  if (z > 40) return 1;
  if (z < -40) return 0;
  const y = Math.abs(z) / Math.SQRT2;
  const tail = erfcPositive(y) / 2;
  return z > 0 ? 1 - tail : tail;
}

/** Chance that a size known as best ± u (one standard uncertainty) lies below `x`; u = 0 answers 0, ½ or 1. */
export function chanceBelow(x: number, best: number, u: number): number {
  if (u > 0) return chance((x - best) / u);
  if (x > best) return 1;
  return x < best ? 0 : 0.5;
}

const A = [
  3.387132872796366608, 1.3314166789178437745e2, 1.9715909503065514427e3, 1.3731693765509461125e4,
  4.5921953931549871457e4, 6.7265770927008700853e4, 3.3430575583588128105e4, 2.5090809287301226727e3,
];
const B = [
  1, 4.2313330701600911252e1, 6.871870074920579083e2, 5.3941960214247511077e3, 2.1213794301586595867e4,
  3.930789580009271061e4, 2.8729085735721942674e4, 5.226495278852854561e3,
];
const C = [
  1.42343711074968357734, 4.6303378461565452959, 5.7694972214606914055, 3.64784832476320460504, 1.27045825245236838258,
  2.4178072517745061177e-1, 2.27238449892691845833e-2, 7.7454501427834140764e-4,
];
const D = [
  1, 2.05319162663775882187, 1.6763848301838038494, 6.8976733498510000455e-1, 1.4810397642748007459e-1,
  1.51986665636164571966e-2, 5.475938084995344946e-4, 1.05075007164441684324e-9,
];
const E = [
  6.6579046435011037772, 5.4637849111641143699, 1.7848265399172913358, 2.9656057182850489123e-1,
  2.6532189526576123093e-2, 1.2426609473880784386e-3, 2.71155556874348757815e-5, 2.01033439929228813265e-7,
];
const F = [
  1, 5.9983220655588793769e-1, 1.3692988092273580531e-1, 1.48753612908506148525e-2, 7.868691311456132591e-4,
  1.8463183175100546818e-5, 1.4215117583164458887e-7, 2.04426310338993978564e-15,
];

function ratio(num: readonly number[], den: readonly number[], r: number): number {
  let n = 0;
  let d = 0;
  for (let i = 7; i >= 0; i--) {
    n = n * r + num[i]!;
    d = d * r + den[i]!;
  }
  return n / d;
}

/** The z below which a standard normal lies with chance p, 0 < p < 1. `quantile(0.975)` = 1.959963984540054. */
export function quantile(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`quantile needs a chance between 0 and 1, got ${p}`);
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) return q * ratio(A, B, 0.180625 - q * q);
  let r = Math.sqrt(-Math.log(q < 0 ? p : 1 - p));
  r = r <= 5 ? ratio(C, D, r - 1.6) : ratio(E, F, r - 5);
  return q < 0 ? -r : r;
}

/** Gauss-Legendre nodes and weights on (-1, 1), one half of each: 6, 12 and 20 points. */
type Nodes = readonly (readonly [x: number, weight: number])[];
const LEGENDRE: readonly [few: Nodes, more: Nodes, most: Nodes] = [
  [
    [0.9324695142031522, 0.1713244923791705],
    [0.6612093864662647, 0.3607615730481384],
    [0.238619186083197, 0.4679139345726904],
  ],
  [
    [0.9815606342467191, 0.04717533638651177],
    [0.904117256370475, 0.1069393259953183],
    [0.769902674194305, 0.1600783285433464],
    [0.5873179542866171, 0.2031674267230659],
    [0.3678314989981802, 0.2334925365383547],
    [0.1252334085114692, 0.2491470458134029],
  ],
  [
    [0.9931285991850949, 0.01761400713915212],
    [0.9639719272779138, 0.04060142980038694],
    [0.9122344282513259, 0.06267204833410906],
    [0.8391169718222188, 0.08327674157670475],
    [0.7463319064601508, 0.1019301198172404],
    [0.636053680726515, 0.1181945319615184],
    [0.5108670019508271, 0.1316886384491766],
    [0.3737060887154196, 0.1420961093183821],
    [0.2277858511416451, 0.1491729864726037],
    [0.07652652113349733, 0.1527533871307259],
  ],
];

/** More nodes the more the two go together. */
function legendreFor(correlation: number): Nodes {
  const [few, more, most] = LEGENDRE;
  if (correlation < 0.3) return few;
  return correlation < 0.75 ? more : most;
}

/**
 * Chance that two standard normals of correlation r lie above h and above k. After A. Genz, Stat. Comput. 14 (2004)
 * 251.
 */
function bothAbove(h: number, k: number, r: number): number {
  const size = Math.abs(r);
  const nodes = legendreFor(size);
  if (size < 0.925) {
    const half = (h * h + k * k) / 2;
    const turn = Math.asin(r);
    let sum = 0;
    for (const [x, w] of nodes) {
      for (const side of [-x, x]) {
        const s = Math.sin((turn * (side + 1)) / 2);
        sum += w * Math.exp((s * h * k - half) / (1 - s * s));
      }
    }
    return (sum * turn) / (4 * Math.PI) + chance(-h) * chance(-k);
  }
  const q = r < 0 ? -k : k;
  const hq = h * q;
  let sum = 0;
  if (size < 1) {
    const rest = (1 - size) * (1 + size);
    let a = Math.sqrt(rest);
    const gap = (h - q) ** 2;
    const c = (4 - hq) / 8;
    const d = (12 - hq) / 16;
    const at = -(gap / rest + hq) / 2;
    if (at > -100)
      sum = a * Math.exp(at) * (1 - (c * (gap - rest) * (1 - (d * gap) / 5)) / 3 + (c * d * rest * rest) / 5);
    if (-hq < 100) {
      const b = Math.sqrt(gap);
      sum -=
        Math.exp(-hq / 2) * Math.sqrt(2 * Math.PI) * chance(-b / a) * b * (1 - (c * gap * (1 - (d * gap) / 5)) / 3);
    }
    a /= 2;
    for (const [x, w] of nodes) {
      for (const side of [-x, x]) {
        const xs = (a * (side + 1)) ** 2;
        const rs = Math.sqrt(1 - xs);
        const e = -(gap / xs + hq) / 2;
        if (e > -100)
          sum += a * w * Math.exp(e) * (Math.exp((-hq * (1 - rs)) / (2 * (1 + rs))) / rs - (1 + c * xs * (1 + d * xs)));
      }
    }
    sum = -sum / (2 * Math.PI);
  }
  if (r > 0) return sum + chance(-Math.max(h, q));
  return -sum + (q > h ? chance(q) - chance(h) : 0);
}

/**
 * Chance that two standard normals of correlation r lie below x and below y; either may be infinite.
 * `chanceBoth(0, 0, r)` = 1/4 + asin(r)/2π.
 */
export function chanceBoth(x: number, y: number, r: number): number {
  if (x === Number.NEGATIVE_INFINITY || y === Number.NEGATIVE_INFINITY) return 0;
  if (x === Number.POSITIVE_INFINITY) return y === Number.POSITIVE_INFINITY ? 1 : chance(y);
  if (y === Number.POSITIVE_INFINITY) return chance(x);
  return Math.min(1, Math.max(0, bothAbove(-x, -y, Math.min(1, Math.max(-1, r)))));
}
