import { BadCall } from './cli/badCall.ts';
import { readCall } from './cli/call.ts';
import { checkCommand } from './cli/check.ts';
import type { Command } from './cli/command.ts';
import { cureCommand } from './cli/cure.ts';
import { readPanel } from './cli/files.ts';
import { holesCommand } from './cli/holes.ts';
import { massCommand } from './cli/mass.ts';
import { sheetsCommand } from './cli/sheets.ts';
import { solidsCommand } from './cli/solids.ts';
import { templatesCommand } from './cli/templates.ts';
import { tonightCommand } from './cli/tonight.ts';
import { unaskedCommand } from './cli/unasked.ts';
import { usageOf } from './cli/usage.ts';

/*
 * The terminal: reads a panel file, calls the engine, prints.
 * Exit 0 or 1 by what was asked, as the usage says; 2: bad file or bad call, with the sentences on stderr.
 */

const COMMANDS: ReadonlyMap<string, Command> = new Map([
  ['tonight', tonightCommand],
  ['check', checkCommand],
  ['holes', holesCommand],
  ['cure', cureCommand],
  ['mass', massCommand],
  ['sheets', sheetsCommand],
  ['solids', solidsCommand],
  ['templates', templatesCommand],
  ['unasked', unaskedCommand],
]);

const print = (text: string): void => void process.stdout.write(`${text}\n`);
const complain = (text: string): void => void process.stderr.write(`${text}\n`);

async function main(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    print(usageOf(COMMANDS));
    return 0;
  }
  try {
    const { command, file, flags } = readCall(COMMANDS, args);
    const { text, code } = await command.run(readPanel(file), flags);
    print(text);
    return code;
  } catch (e) {
    if (!(e instanceof BadCall)) throw e;
    if (args.length === 0) complain(`${usageOf(COMMANDS)}\n`);
    complain(e.message);
    return 2;
  }
}

process.stdout.on('error', () => process.exit(process.exitCode ?? 0));
process.exitCode = await main(process.argv.slice(2));
