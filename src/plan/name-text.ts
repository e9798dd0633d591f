import { z } from 'zod';

/** A name fit for every file written: one line, no blanks at its ends. */
export const nameText = z
  .string()
  .min(1)
  .max(40)
  .regex(/^[^\p{Cc}\s]([^\p{Cc}]*[^\p{Cc}\s])?$/u, 'a name on one line, without blanks at its ends');
