import { z } from 'zod';
import { reportSchema } from '../src/cli/report.ts';
import { handOffSchema } from '../src/jobs/hand-off-document.ts';
import { lineupSchema } from '../src/plan/lineup-schema.ts';
import { planSchema } from '../src/plan/schema.ts';

/** The JSON Schemas in this folder by file name, made from the one reference each: `npm run docs` writes them, a test compares them. */
export function jsonSchemas(): Map<string, string> {
  const input = { plan: planSchema, lineup: lineupSchema };
  const output = { 'hand-off': handOffSchema, 'run-report': reportSchema };
  const text = (schema: z.ZodType, io: 'input' | 'output') =>
    `${JSON.stringify(z.toJSONSchema(schema, { io }), null, 2)}\n`;
  return new Map([
    ...Object.entries(input).map(([name, schema]): [string, string] => [
      `${name}.schema.json`,
      text(schema, 'input'),
    ]),
    ...Object.entries(output).map(([name, schema]): [string, string] => [
      `${name}.schema.json`,
      text(schema, 'output'),
    ]),
  ]);
}
