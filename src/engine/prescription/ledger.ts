import type { OrderLine } from './order.ts';

/** A row of the ledger. Seeds are whole; every total is the sum of the rows it stands under. */
export interface LedgerRow {
  readonly acres: number;
  readonly seeds: number;
  /** seeds / seeds per unit; whole bags are counted only in an order. */
  readonly units: number;
  /** Treatments are in it, and told besides. */
  readonly seedCost: number;
  readonly treatmentCost: number;
}

export interface ZoneLedgerRow extends LedgerRow {
  readonly zone: number;
  readonly name: string;
  /** Index into the lineup used. */
  readonly product: number;
  readonly productName: string;
  readonly plantsPerAc: number;
  readonly seedsPerAc: number;
  readonly yield_buPerAc: number;
  readonly marginPerAc: number;
}

export interface ProductLedgerRow extends LedgerRow {
  readonly product: number;
  readonly productName: string;
}

export interface Ledger {
  readonly byZone: readonly ZoneLedgerRow[];
  readonly byProduct: readonly ProductLedgerRow[];
  readonly total: LedgerRow;
  /** What to order for it, by product. */
  readonly order: readonly OrderLine[];
}
