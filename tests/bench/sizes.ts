import { gzipSync } from 'node:zlib';
import { build, type Plugin, type Rollup } from 'vite';
import type { Row } from './rows.ts';

/*
 * What the browser has to load: before the first screen can be drawn, and every file. Set against a page of the same React
 * that shows one word, built in the same run.
 */

type Output = readonly (Rollup.OutputChunk | Rollup.OutputAsset)[];

interface Weight {
  readonly kB: number;
  readonly gzip: number;
}

const contents = (f: Output[number]): Buffer => Buffer.from(f.type === 'chunk' ? f.code : f.source);

function weigh(files: Output): Weight {
  return files.reduce(
    (sum, f) => ({ kB: sum.kB + contents(f).length / 1000, gzip: sum.gzip + gzipSync(contents(f)).length / 1000 }),
    { kB: 0, gzip: 0 },
  );
}

const outputOf = (made: Awaited<ReturnType<typeof build>>): Output =>
  (Array.isArray(made) ? made : [made]).flatMap((m) => ('output' in m ? [...m.output] : []));

/** The entry and all that it imports at once. */
function firstOf(output: Output): Output {
  const byName = new Map(output.map((f) => [f.fileName, f]));
  const first = new Set<Output[number]>();
  const reach = (name: string): void => {
    const file = byName.get(name);
    if (file?.type !== 'chunk' || first.has(file)) return;
    first.add(file);
    file.imports.forEach(reach);
    for (const css of file.viteMetadata?.importedCss ?? []) if (byName.has(css)) first.add(byName.get(css)!);
  };
  for (const f of output) if (f.type === 'chunk' && f.isEntry) reach(f.fileName);
  return [...first];
}

/** A page of React alone. */
async function reactAlone(): Promise<Weight> {
  const entry =
    "import { createElement } from 'react'; import { createRoot } from 'react-dom/client'; createRoot(document.body).render(createElement('p', null, 'hello'));";
  const alone: Plugin = {
    name: 'alone',
    resolveId: (id) => (id === 'alone.js' ? `${process.cwd()}/alone.js` : null),
    load: (id) => (id.endsWith('/alone.js') ? entry : null),
  };
  const made = await build({
    configFile: false,
    logLevel: 'error',
    plugins: [alone],
    define: { 'process.env.NODE_ENV': '"production"' },
    build: { write: false, target: 'es2022', rollupOptions: { input: 'alone.js' } },
  });
  return weigh(outputOf(made));
}

/** A file's name without the letters that change with its contents. */
const named = (file: string): string => file.replace(/^assets\//, '').replace(/-[\w-]{8}(?=\.\w+$)/, '');

export async function sizesRows(): Promise<Row[]> {
  const alone = await reactAlone();
  const output = outputOf(await build({ logLevel: 'error', build: { write: false } })).filter(
    (f) => !f.fileName.endsWith('.map'),
  );
  const first = firstOf(output);
  const [before, all] = [weigh(first), weigh(output)];
  const row = (what: string, w: Weight, ratio: number, against: string, note = ''): Row => ({
    what,
    figure: w.gzip,
    unit: 'kB gz',
    ratio,
    against,
    sense: 'size',
    note: `${w.kB.toFixed(0)} kB${note}`,
  });
  const rows = [
    row('React alone', alone, alone.gzip / alone.gzip, 'React alone', ', a page that shows one word'),
    row('first screen, before 3D', before, before.gzip / alone.gzip, 'React alone', `, ${first.length} files`),
    row('all files together', all, all.gzip / before.gzip, 'first screen', `, ${output.length} files`),
  ];
  const seen = new Map<string, number>();
  for (const file of [...output].sort((a, b) => contents(b).length - contents(a).length)) {
    const name = named(file.fileName);
    const nth = (seen.get(name) ?? 0) + 1;
    seen.set(name, nth);
    const own = weigh([file]);
    rows.push(
      row(
        nth > 1 ? `${name} (${nth})` : name,
        own,
        own.gzip / before.gzip,
        'first screen',
        first.includes(file) ? ', first screen' : '',
      ),
    );
  }
  return rows;
}
