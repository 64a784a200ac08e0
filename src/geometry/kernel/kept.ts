/** Answers by key, the longest unasked dropped first once their sizes add up to more than `most`. */
export class KeptAnswers<T> {
  readonly #all = new Map<string, T>();
  readonly #most: number;
  readonly #sizeOf: (value: T) => number;
  #size = 0;
  constructor(most: number, sizeOf: (value: T) => number) {
    this.#most = most;
    this.#sizeOf = sizeOf;
  }

  get(key: string): T | undefined {
    const value = this.#all.get(key);
    if (value === undefined) return undefined;
    this.#all.delete(key);
    this.#all.set(key, value);
    return value;
  }

  keep(key: string, value: T): T {
    const old = this.#all.get(key);
    if (old !== undefined) this.#size -= this.#sizeOf(old);
    this.#all.delete(key);
    this.#all.set(key, value);
    this.#size += this.#sizeOf(value);
    for (const [oldest, dropped] of this.#all) {
      if (this.#size <= this.#most || oldest === key) break;
      this.#all.delete(oldest);
      this.#size -= this.#sizeOf(dropped);
    }
    return value;
  }
}
