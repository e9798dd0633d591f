/** Milliseconds by step, of this process. */
export const steps: Record<string, number> = {};

export function timed<T>(step: string, work: () => T): T {
  const from = performance.now();
  const result = work();
  steps[step] = performance.now() - from;
  return result;
}

export async function timedLater<T>(step: string, work: () => Promise<T>): Promise<T> {
  const from = performance.now();
  const result = await work();
  steps[step] = performance.now() - from;
  return result;
}
