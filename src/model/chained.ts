/**
 * Running dimensions out of distances from rib to rib, when a list of places cannot be running ones: three or more,
 * not rising, and nothing after the first at or under zero. The first is the datum's distance to the first rib.
 * Undefined for a list that rises. A drawing may be dimensioned so; marked so, every error goes on to the next rib
 * (grows with the root of their count when they are independent), which is why the places are added up here and
 * marked from one datum.
 *
 * @example `runningFrom([30, 325, 325, 330])` is [30, 355, 680, 1010].
 */
export function runningFrom(places: readonly number[]): readonly number[] | undefined {
  const rises = places.every((y, i) => y > (places[i - 1] ?? -Infinity));
  if (rises || places.length < 3 || places.slice(1).some((s) => s <= 0)) return undefined;
  let sum = 0;
  return places.map((s) => (sum = Math.round((sum + s) * 1e6) / 1e6));
}
