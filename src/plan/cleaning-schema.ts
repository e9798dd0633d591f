import { z } from 'zod';
import { CLEANING_RULES } from '../engine/harvest/clean-harvest.ts';
import type { CleaningRule } from '../engine/harvest/cleaning-rule.ts';

/** A rule as a plan sets it: whether it is used, and its thresholds by name; defaults, limits and reasons are the rule's own. */
function ruleSchema({ title, source, thresholds }: CleaningRule) {
  const figures = Object.entries(thresholds).map(([name, { unit, usual, least, most, why }]) => [
    name,
    z
      .number()
      .min(least)
      .max(most)
      .default(usual)
      .describe(unit ? `${unit}. ${why}` : why),
  ]);
  const known = Object.fromEntries(figures) as Record<string, z.ZodDefault<z.ZodNumber>>;
  return z
    .strictObject({ use: z.boolean().default(true), thresholds: z.strictObject(known).prefault({}) })
    .prefault({})
    .describe(`Set aside: ${title}. ${source}`);
}

/** Harvest cleaning: every rule with its thresholds. Points are set aside with their reason, never deleted. */
export const cleaningSchema = z
  .strictObject(Object.fromEntries(CLEANING_RULES.map((rule) => [rule.id, ruleSchema(rule)])))
  .prefault({})
  .describe('Rules by which yield points are set aside.');

/** Rules by id, every one with all its thresholds. */
export type CleaningPlan = z.output<typeof cleaningSchema>;
