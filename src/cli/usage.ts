import type { Command, Flag } from './command.ts';

/* How the terminal is called: written from the commands themselves, so that it says what they take. */

const HEAD = 'Ribtrue checks whether a hand-built skeleton of spars and ribs goes together true.';
const EXITS =
  'Exit 0: nothing left to do (tonight), nothing at act or unsettled (check), nothing never (holes), a plan leaves nothing beyond act (cure), done (mass, solids, sheets, templates, unasked). 1: otherwise. 2: bad file or bad call.';

const called = ({ name, value }: Flag): string => (value === undefined ? name : `${name} ${value}`);

function callLine(name: string, { flags }: Command): string {
  const all = flags.map((f) => (f.needed ? called(f) : `[${called(f)}]`));
  return `  npm run -s ribtrue -- ${name} FILE ${all.join(' ')}`;
}

/** A flag with what it says; its value beside it only where that is a letter or two and the words do not name it. */
function flagLine(flag: Flag): string {
  const head = /^[A-Z]{1,3}$/.test(flag.value ?? '') ? called(flag) : flag.name;
  return `    ${head.padEnd(9)}  ${flag.says}`;
}

export function usageOf(commands: ReadonlyMap<string, Command>): string {
  const calls = [...commands].map(([name, command]) => callLine(name, command));
  const told = [...commands].flatMap(([name, { says, flags }]) => [
    `  ${`${name} FILE`.padEnd(11)}  ${says}`,
    ...flags.map(flagLine),
  ]);
  return [HEAD, '', ...calls, '', ...told, '', EXITS].join('\n');
}
