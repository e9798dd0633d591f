import { InvalidArgumentError } from 'commander';
import { KG_PER_LB } from '../engine/math/units.ts';

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

/** A weight of a bushel, `56lb` or `25.4kg`, in lb; null where it is none the plan can hold. */
export function bushelWeight_lb(text: string): number | null {
  const said = /^(\d+(?:\.\d+)?) ?(lb|kg)$/.exec(text.trim());
  if (!said) return null;
  // A weight in kg is that of a whole or tenth of a pound, written short.
  const lb = said[2] === 'lb' ? Number(said[1]) : Number((Number(said[1]) / KG_PER_LB).toFixed(1));
  return lb >= 10 && lb <= 100 ? lb : null;
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
