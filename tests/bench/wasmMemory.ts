/** The memories of every WASM module started from now on: the modules do not show them themselves. */
export function wasmMemories(): readonly WebAssembly.Memory[] {
  const seen: WebAssembly.Memory[] = [];
  const note = (instance: WebAssembly.Instance): void => {
    for (const thing of Object.values(instance.exports)) if (thing instanceof WebAssembly.Memory) seen.push(thing);
  };
  const start = WebAssembly.instantiate as (
    ...a: unknown[]
  ) => Promise<WebAssembly.Instance | WebAssembly.WebAssemblyInstantiatedSource>;
  WebAssembly.instantiate = ((...a: unknown[]) =>
    start(...a).then((made) => {
      note('instance' in made ? made.instance : made);
      return made;
    })) as typeof WebAssembly.instantiate;
  return seen;
}
