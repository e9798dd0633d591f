/** Letters in the longest name. */
export const LONGEST_NAME = 40;
/** One line, no blanks at its ends: a name is written into files for planters. */
const NAME = /^[^\p{Cc}\s]([^\p{Cc}]*[^\p{Cc}\s])?$/u;

export function isName(text: string): boolean {
  return text.length <= LONGEST_NAME && NAME.test(text);
}
