import { type Model, panelSchema } from '../schema.ts';

const WIDTH = 150;

/**
 * One value on one line, or over several when it would run past the width: readable by people, stable for comparing.
 */
function lay(value: unknown, indent: string): string {
  const flat = JSON.stringify(value, null, 1).replace(/\n\s*/g, ' ');
  if (value === null || typeof value !== 'object' || flat.length + indent.length <= WIDTH) return flat;
  const inner = `${indent}  `;
  if (Array.isArray(value)) return `[\n${value.map((v) => inner + lay(v, inner)).join(',\n')}\n${indent}]`;
  const pairs = Object.entries(value)
    .filter(([, v]) => v !== undefined)
    .map(([k, v]) => `${inner}${JSON.stringify(k)}: ${lay(v, inner)}`);
  return `{\n${pairs.join(',\n')}\n${indent}}`;
}

/**
 * The text of a panel file, its groups in the order of the published form. `write(parse(text))` of a file written
 * here is the same text.
 */
export function writeModel(model: Model): string {
  const pairs = (Object.keys(panelSchema.shape) as (keyof Model)[])
    .map((k) => [k, model[k]] as const)
    .filter(([, v]) => v !== undefined)
    .map(([k, v]) => `  ${JSON.stringify(k)}: ${lay(v, '  ')}`);
  return `{\n${pairs.join(',\n')}\n}\n`;
}
