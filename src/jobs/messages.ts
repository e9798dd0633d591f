import type { CallName, Calls } from './calls.ts';

/** What crosses to a worker and back. A call is told apart by `id`; a cancel overtakes what waits. */
export type ToDesk =
  | { readonly id: number; readonly name: CallName; readonly takes: Calls[CallName]['takes'] }
  | { readonly id: number; readonly cancel: true };

export type FromDesk =
  | { readonly id: number; readonly progress: { readonly step: string; readonly share: number } }
  | { readonly id: number; readonly gives: Calls[CallName]['gives'] }
  | { readonly id: number; readonly failed: string; readonly cancelled: boolean };
