import { readFileSync } from 'node:fs';
import { checkAll, countVerdicts } from './checks/checkAll.ts';
import { reportOf, reportText } from './checks/report.ts';
import { faultText, parseModel } from './model/parse.ts';
import type { Model } from './model/schema.ts';

/*
 * The terminal: reads a panel file, calls the engine, prints.
 * Exit 0: nothing at act or unsettled. 1: something is. 2: bad file or bad call, with the sentences on stderr.
 */

const USAGE = `Ribtrue checks whether a hand-built skeleton of spars and ribs goes together true.

  npm run -s ribtrue -- check FILE [--json] [--all]

  check FILE   findings, worst first, then the counts
    --json     { panel, counts, findings } with unrounded values in mm or degrees
    --all      list the findings that fit, too

Exit 0: nothing at act or unsettled. 1: something is. 2: bad file or bad call.`;

class BadCall extends Error {}

interface Call {
  readonly command: string;
  readonly file: string;
  readonly flags: ReadonlySet<string>;
}

const COMMANDS: Readonly<Record<string, { readonly flags: readonly string[]; readonly run: (model: Model, flags: ReadonlySet<string>) => number }>> = {
  check: { flags: ['--json', '--all'], run: runCheck },
};

function readCall(args: readonly string[]): Call {
  const [command, ...rest] = args;
  if (!command) throw new BadCall('no command was given; expected "check FILE"; see the lines above');
  const known = COMMANDS[command];
  if (!known) throw new BadCall(`"${command}" is not a command; expected ${Object.keys(COMMANDS).map((c) => `"${c}"`).join(' or ')}; correct it`);
  const flags = rest.filter((a) => a.startsWith('--'));
  const files = rest.filter((a) => !a.startsWith('--'));
  const wrong = flags.find((f) => !known.flags.includes(f));
  if (wrong) throw new BadCall(`"${wrong}" is not known to ${command}; expected ${known.flags.join(' or ')}; correct it`);
  const [file] = files;
  if (!file || files.length > 1) throw new BadCall(`${command} takes one panel file and got ${files.length}; name one`);
  return { command, file, flags: new Set(flags) };
}

function readModel(file: string): Model {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch {
    throw new BadCall(`${file} could not be read; expected a panel file there; check the name`);
  }
  const read = parseModel(text);
  if (read.ok) return read.model;
  throw new BadCall(read.faults.map((f) => `${file}: ${faultText(f)}`).join('\n'));
}

function runCheck(model: Model, flags: ReadonlySet<string>): number {
  const findings = checkAll(model);
  const counts = countVerdicts(findings);
  process.stdout.write(flags.has('--json') ? `${JSON.stringify(reportOf(model, findings), null, 1)}\n` : `${reportText(model, findings, flags.has('--all'))}\n`);
  return counts.act + counts.unsettled > 0 ? 1 : 0;
}

function main(args: readonly string[]): number {
  if (args.includes('--help')) {
    process.stdout.write(`${USAGE}\n`);
    return 0;
  }
  try {
    const call = readCall(args);
    return COMMANDS[call.command]!.run(readModel(call.file), call.flags);
  } catch (e) {
    if (!(e instanceof BadCall)) throw e;
    if (args.length === 0) process.stderr.write(`${USAGE}\n\n`);
    process.stderr.write(`${e.message}\n`);
    return 2;
  }
}

process.stdout.on('error', () => process.exit(process.exitCode ?? 0));
process.exitCode = main(process.argv.slice(2));
