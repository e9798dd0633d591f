/** The season a plan made today is for: after June, that of next year. As the command line has it. */
export function nextSeason(today: Date): number {
  return today.getFullYear() + (today.getMonth() >= 6 ? 1 : 0);
}
