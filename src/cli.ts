import { mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { checkAll, countVerdicts } from './checks/checkAll.ts';
import type { Finding } from './checks/finding.ts';
import { CAUTION, reportOf, reportText } from './checks/report.ts';
import { BadCall } from './cli/badCall.ts';
import { runCure } from './cli/cure.ts';
import { gatesOf } from './drilling/gates.ts';
import { ledgerOf, ledgerText } from './drilling/ledger.ts';
import { faultText, LONGEST, parseModel } from './model/file/parse.ts';
import type { Model } from './model/schema.ts';
import { skeletonOf } from './parts/layout/skeleton.ts';
import { SHEETS } from './sheets/all.ts';
import { STEP_CARDS, sheetFiles, stem } from './sheets/files.ts';
import { templateFiles, templateNames } from './sheets/templateFiles.ts';

/*
 * The terminal: reads a panel file, calls the engine, prints.
 * Exit 0 or 1 by what was asked, as USAGE says; 2: bad file or bad call, with the sentences on stderr.
 */

const SHEET_NAMES: readonly string[] = [...SHEETS.map((s) => s.id), STEP_CARDS];

const USAGE = `Ribtrue checks whether a hand-built skeleton of spars and ribs goes together true.

  npm run -s ribtrue -- check FILE [--json] [--all] [--solids]
  npm run -s ribtrue -- holes FILE [--stage S] [--json]
  npm run -s ribtrue -- cure FILE [--json] [--plans N] [--seconds S]
  npm run -s ribtrue -- mass FILE [--json]
  npm run -s ribtrue -- solids FILE --out DIR [--form glb|stl]
  npm run -s ribtrue -- sheets FILE --out DIR [--paper a4|letter] [--only NAMES] [--form pdf|svg]
  npm run -s ribtrue -- templates FILE --out DIR [--paper a4|letter] [--form pdf|svg|dxf] [--only PARTS] [--remake RIBS]

  check FILE   findings, worst first, then the counts
    --json     { panel, counts, findings } with unrounded values in mm or degrees
    --all      list the findings that fit, too
    --solids   ask the built solids too: what is in the same place, how far apart is what should meet
  holes FILE   every hole: now, not yet, never at this size, and why; the gates; the rivet bags
    --stage S  as at that stage, not the present one: its name, or its number from 1
    --json     { panel, stage, holes, gates } with unrounded values in mm and rivet diameters
  cure FILE    plans: the least work that makes it true, what each costs and leaves, what is proven; which rib goes where
    --plans N  plans besides doing nothing, at most; 6 unless told
    --seconds S  time for the search, seconds; 60 unless told
    --json     { panel, plans, conflicts, placements } with unrounded values
  mass FILE    volume, mass and middle of every part and of the panel, and moments
    --json     the same with unrounded values in mm, mm³, g and kg·mm
  sheets FILE  writes the bench sheets and the step cards, a file a sheet
    --out DIR  where to; made where it is not
    --paper    a4 or letter; a4 unless told
    --only     names with commas between; all unless told: ${SHEET_NAMES.join(', ')}
    --form     pdf (a file a sheet) or svg (a file a page), both true to scale; pdf unless told
  solids FILE  writes the parts as drawn in measured size
    --out DIR  where to; made where it is not
    --form     glb (one file, every part by its name, metres) or stl (a file a part, mm); glb unless told
  templates FILE  writes full-size flat patterns, rib blanks, forming blocks and drill strips, and the cut list
    --out DIR  where to; made where it is not
    --paper    a4 or letter; a4 unless told
    --form     pdf (pages with check bars), or svg or dxf (a file a piece, mm, for a cutter); pdf unless told
    --only     names of parts, commas between; all unless told, and then the cut list comes too
    --remake   names of ribs to cut again, commas between: they join the cut list, which then comes

Exit 0: nothing at act or unsettled (check), nothing never (holes), a plan leaves nothing beyond act (cure), done (mass, solids, sheets, templates). 1: otherwise. 2: bad file or bad call.`;

interface Call {
  readonly command: string;
  readonly file: string;
  readonly flags: Flags;
}

/** Flags by name; one that takes a value has it. */
type Flags = ReadonlyMap<string, string>;

interface Command {
  /** Each flag with what its value is called; '' for one that stands alone. */
  readonly flags: Readonly<Record<string, string>>;
  readonly run: (model: Model, flags: Flags) => number | Promise<number>;
}

const COMMANDS: Readonly<Record<string, Command>> = {
  check: { flags: { '--json': '', '--all': '', '--solids': '' }, run: runCheck },
  holes: { flags: { '--stage': 'the name or number of a stage', '--json': '' }, run: runHoles },
  cure: { flags: { '--json': '', '--plans': 'how many', '--seconds': 'how long' }, run: runCure },
  mass: { flags: { '--json': '' }, run: runMass },
  solids: { flags: { '--out': 'a folder', '--form': 'glb or stl' }, run: runSolids },
  sheets: {
    flags: { '--out': 'a folder', '--paper': 'a4 or letter', '--only': 'names of sheets', '--form': 'pdf or svg' },
    run: runSheets,
  },
  templates: {
    flags: {
      '--out': 'a folder',
      '--paper': 'a4 or letter',
      '--form': 'pdf, svg or dxf',
      '--only': 'names of parts',
      '--remake': 'names of ribs',
    },
    run: runTemplates,
  },
};

function readCall(args: readonly string[]): Call {
  const [command, ...rest] = args;
  if (!command) throw new BadCall('no command was given; expected "check FILE"; see the lines above');
  const known = Object.hasOwn(COMMANDS, command) ? COMMANDS[command] : undefined;
  if (!known)
    throw new BadCall(
      `"${command}" is not a command; expected ${Object.keys(COMMANDS)
        .map((c) => `"${c}"`)
        .join(' or ')}; correct it`,
    );
  const flags = new Map<string, string>();
  const files: string[] = [];
  for (let i = 0; i < rest.length; i++) {
    const word = rest[i]!;
    if (!word.startsWith('--')) {
      files.push(word);
      continue;
    }
    const wants = Object.hasOwn(known.flags, word) ? known.flags[word] : undefined;
    if (wants === undefined)
      throw new BadCall(
        `"${word}" is not known to ${command}; expected ${Object.keys(known.flags).join(' or ')}; correct it`,
      );
    const value = wants === '' ? '' : rest[++i];
    if (value === undefined || value.startsWith('--'))
      throw new BadCall(`"${word}" was given without its value; expected ${wants} after it; add it`);
    flags.set(word, value);
  }
  const [file] = files;
  if (!file || files.length > 1) throw new BadCall(`${command} takes one panel file and got ${files.length}; name one`);
  return { command, file, flags };
}

function readModel(file: string): Model {
  let text: string;
  try {
    const { size } = statSync(file);
    if (size > LONGEST)
      throw new BadCall(
        `${file}: the file has ${Math.round(size / 1e6)} MB; expected at most ${LONGEST / 1e6}; choose another`,
      );
    text = readFileSync(file, 'utf8');
  } catch (e) {
    if (e instanceof BadCall) throw e;
    throw new BadCall(`${file} could not be read; expected a panel file there; check the name`);
  }
  const read = parseModel(text);
  if (read.ok) return read.model;
  throw new BadCall(read.faults.map((f) => `${file}: ${faultText(f)}`).join('\n'));
}

const print = (text: string): void => void process.stdout.write(`${text}\n`);

async function runCheck(model: Model, flags: Flags): Promise<number> {
  const findings = flags.has('--solids') ? [...checkAll(model), ...(await fromSolids(model))] : checkAll(model);
  const counts = countVerdicts(findings);
  print(
    flags.has('--json')
      ? JSON.stringify(reportOf(model, findings), null, 1)
      : reportText(model, findings, flags.has('--all')),
  );
  return counts.act + counts.unsettled > 0 ? 1 : 0;
}

async function runHoles(model: Model, flags: Flags): Promise<number> {
  const asked = flags.get('--stage');
  // By its name, or by its number in the order of assembly.
  const stage =
    asked === undefined
      ? undefined
      : (
          model.stages.find((s) => s.id === asked) ??
          (/^[1-9]\d*$/.test(asked) ? model.stages[Number(asked) - 1] : undefined)
        )?.id;
  if (asked !== undefined && stage === undefined)
    throw new BadCall(
      `"${asked}" is not a stage of this panel; expected ${model.stages.map((s, i) => `${i + 1} or ${s.id}`).join(', ') || 'none, it has no stages'}; correct it`,
    );
  const holes = ledgerOf(model, stage);
  const { name, revision } = model;
  print(
    flags.has('--json')
      ? JSON.stringify(
          {
            panel: { name, revision },
            stage: stage ?? model.now ?? null,
            holes,
            gates: gatesOf(model, stage),
            caution: CAUTION,
          },
          null,
          1,
        )
      : ledgerText(model, stage),
  );
  return holes.some((h) => h.state === 'never') ? 1 : 0;
}

/** The solid modeller is loaded only when it is asked. */
async function fromSolids(model: Model): Promise<Finding[]> {
  const [{ openKernel }, { solidFindings }] = await Promise.all([
    import('./geometry/kernel.ts'),
    import('./solidChecks/asBuilt.ts'),
  ]);
  return solidFindings(skeletonOf(model), await openKernel());
}

async function runMass(model: Model, flags: Flags): Promise<number> {
  const [{ openKernel }, { massOf, massText }] = await Promise.all([
    import('./geometry/kernel.ts'),
    import('./solidChecks/mass.ts'),
  ]);
  const report = massOf(skeletonOf(model), await openKernel());
  print(
    flags.has('--json')
      ? JSON.stringify({ panel: { name: model.name, revision: model.revision }, ...report, caution: CAUTION }, null, 1)
      : massText(model, report),
  );
  return 0;
}

async function runSolids(model: Model, flags: Flags): Promise<number> {
  const [folder, form] = [flags.get('--out'), flags.get('--form') ?? 'glb'];
  if (folder === undefined) throw new BadCall('solids was given no folder to write to; expected "--out DIR"; add it');
  if (form !== 'glb' && form !== 'stl')
    throw new BadCall(`"${form}" is not a form of solids; expected glb or stl; correct it`);
  const [{ openKernel }, { solidsOf }, { glb }, { stl }] = await Promise.all([
    import('./geometry/kernel.ts'),
    import('./parts/placed/solids.ts'),
    import('./scene/glb.ts'),
    import('./scene/stl.ts'),
  ]);
  const kernel = await openKernel();
  const parts = kernel.together(() =>
    solidsOf(skeletonOf(model), { magnify: 1, skin: true, rivets: true }).map(({ id, solid }) => ({
      name: id,
      mesh: kernel.build(solid),
    })),
  );
  const files =
    form === 'glb'
      ? [{ name: `${stem(model.name)}.glb`, bytes: glb(parts, model.name) }]
      : parts.map(({ name, mesh }) => ({ name: `${stem(name)}.stl`, bytes: stl(mesh, name) }));
  writeInto(folder, files);
  print(
    `${parts.length} parts in ${files.length === 1 ? files[0]!.name : `${files.length} files`}, ${form === 'glb' ? 'metres, y up' : 'millimetres, z up'}`,
  );
  return 0;
}

async function runSheets(model: Model, flags: Flags): Promise<number> {
  const [folder, paper, form] = [flags.get('--out'), flags.get('--paper') ?? 'a4', flags.get('--form') ?? 'pdf'];
  if (folder === undefined) throw new BadCall('sheets was given no folder to write to; expected "--out DIR"; add it');
  if (paper !== 'a4' && paper !== 'letter')
    throw new BadCall(`"${paper}" is not a paper; expected a4 or letter; correct it`);
  if (form !== 'pdf' && form !== 'svg')
    throw new BadCall(`"${form}" is not a form of sheets; expected pdf or svg; correct it`);
  const only = flags
    .get('--only')
    ?.split(',')
    .map((name) => name.trim());
  const unknown = only?.find((name) => !SHEET_NAMES.includes(name));
  if (unknown !== undefined)
    throw new BadCall(`"${unknown}" is not a sheet; expected ${SHEET_NAMES.join(', ')}; correct it`);
  const kernel = async () => (await import('./geometry/kernel.ts')).openKernel();
  let count = 0;
  for await (const { name, bytes } of sheetFiles(model, {
    date: today(),
    paper,
    form,
    kernel,
    ...(only ? { only } : {}),
  })) {
    writeInto(folder, [{ name, bytes }]);
    count++;
  }
  print(
    `${count} ${count === 1 ? 'file' : 'files'} in ${form}, ${paper === 'a4' ? 'A4' : 'Letter'}: print them at actual size (100 %)`,
  );
  return 0;
}

async function runTemplates(model: Model, flags: Flags): Promise<number> {
  const [folder, paper, form] = [flags.get('--out'), flags.get('--paper') ?? 'a4', flags.get('--form') ?? 'pdf'];
  if (folder === undefined)
    throw new BadCall('templates was given no folder to write to; expected "--out DIR"; add it');
  if (paper !== 'a4' && paper !== 'letter')
    throw new BadCall(`"${paper}" is not a paper; expected a4 or letter; correct it`);
  if (form !== 'pdf' && form !== 'svg' && form !== 'dxf')
    throw new BadCall(`"${form}" is not a form of templates; expected pdf, svg or dxf; correct it`);
  const named = (flag: string, known: readonly string[], what: string): string[] | undefined => {
    const names = flags
      .get(flag)
      ?.split(',')
      .map((name) => name.trim());
    const unknown = names?.find((name) => !known.includes(name));
    if (unknown !== undefined)
      throw new BadCall(`"${unknown}" is not ${what} of this panel; expected ${known.join(', ')}; correct it`);
    return names;
  };
  const only = named('--only', templateNames(model), 'a part with a template');
  const remake = named(
    '--remake',
    model.ribs.map((r) => r.id),
    'a rib',
  );
  let count = 0;
  for await (const file of templateFiles(model, {
    date: today(),
    paper,
    form,
    ...(only ? { only } : {}),
    ...(remake ? { remake } : {}),
  })) {
    writeInto(folder, [file]);
    count++;
  }
  print(
    `${count} ${count === 1 ? 'file' : 'files'} in ${form}${form === 'pdf' ? `, ${paper === 'a4' ? 'A4' : 'Letter'}: print them at actual size (100 %) and lay a rule on the check bars` : ', millimetres: layers CUT, BEND and MARK'}`,
  );
  return 0;
}

/** The day where the person is. */
function today(): string {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, '0')).join('-');
}

/** Writes files into a folder, made where it is not. */
function writeInto(
  folder: string,
  files: readonly { readonly name: string; readonly bytes: Uint8Array | string }[],
): void {
  try {
    mkdirSync(folder, { recursive: true });
    for (const { name, bytes } of files) writeFileSync(join(folder, name), bytes);
  } catch {
    throw new BadCall(`${folder} could not be written to; expected a folder that can be; choose another`);
  }
}

async function main(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    print(USAGE);
    return 0;
  }
  try {
    const call = readCall(args);
    return await COMMANDS[call.command]!.run(readModel(call.file), call.flags);
  } catch (e) {
    if (!(e instanceof BadCall)) throw e;
    if (args.length === 0) process.stderr.write(`${USAGE}\n\n`);
    process.stderr.write(`${e.message}\n`);
    return 2;
  }
}

process.stdout.on('error', () => process.exit(process.exitCode ?? 0));
process.exitCode = await main(process.argv.slice(2));
