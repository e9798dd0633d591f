import { InvalidArgumentError } from 'commander';

/** A finite number; what an option of the command line says. Throws what the command line tells as wrong usage, as do the others here. */
export function number(text: string): number {
  const value = text.trim() === '' ? NaN : Number(text);
  if (!Number.isFinite(value)) throw new InvalidArgumentError('a number is expected.');
  return value;
}

export function port(text: string): number {
  const value = number(text);
  if (!Number.isInteger(value) || value < 0 || value > 65535)
    throw new InvalidArgumentError('a whole number from 0 to 65535 is expected.');
  return value;
}

export function records(text: string, before: readonly number[] = []): number[] {
  return [...before, number(text)];
}

export function texts(text: string, before: readonly string[] = []): string[] {
  return [...before, text];
}

export function systems(text: string, before: readonly string[] = []): string[] {
  const cut = text.lastIndexOf('=');
  if (cut < 1) throw new InvalidArgumentError('FILE=EPSG:32612 is expected.');
  return [...before, text.slice(0, cut) + text.slice(cut).toUpperCase()];
}
