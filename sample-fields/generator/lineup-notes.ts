import type { LineupInput } from '../../src/plan/lineup-schema.ts';

type Notes = Partial<LineupInput['products'][number]>;

/** The one scale of the sample: 1 to 9, 9 best. */
export const SCALE = { id: 'one to nine', lowest: 1, highest: 9, best: 'highest' } as const;

const FENWICK = 'R. Fenwick (invented)';
const seedCoat = {
  name: 'Seed coat A (invented)',
  pricePerUnit: 11,
  protectsAgainst: ['seedling blight', 'wireworm'],
};
const borer = {
  name: 'stalk borer trait (invented)',
  refuge: {
    share: 0.05,
    kind: 'blended' as const,
    note: 'the label and the grower agreement rule',
  },
};

/** What an agronomist who does not exist has noted of products that cannot be bought. What was not rated is left out. */
export const NOTES: Readonly<Record<string, Notes>> = {
  'sora-105': {
    gddToMaturity: 2520,
    ratings: rated({ 'stalk strength': 8, drought: 8, 'early vigour': 7 }),
    stature: 'short, ear low',
    placement: [
      {
        verdict: 'best',
        where: [{ on: 'environment', to: 165 }],
        reason: 'it gives up little when the ground gives little',
        by: FENWICK,
      },
    ],
  },
  'plover-108': {
    gddToMaturity: 2610,
    treatments: [seedCoat],
    traits: [borer],
    ratings: rated({ 'stalk strength': 6, drought: 7, 'leaf blight': 5 }),
    stature: 'middling height, ear flexes',
    meterNotes: 'flat rounds, a smaller disc hole',
  },
  'curlew-109': {
    gddToMaturity: 2640,
    traits: [borer],
    ratings: rated({ 'stalk strength': 7, drought: 5, 'leaf blight': 7, 'early vigour': 6 }),
    stature: 'tall, ear fixed',
  },
  'godwit-111': {
    gddToMaturity: 2690,
    ratings: rated({ 'stalk strength': 5, drought: 3, 'leaf blight': 8 }),
    placement: [
      {
        verdict: 'never',
        where: [{ on: 'environment', to: 165 }],
        reason: 'it fires from below where the ground dries out',
        by: FENWICK,
      },
    ],
  },
  'bittern-112': {
    gddToMaturity: 2720,
    treatments: [seedCoat],
    traits: [borer],
    ratings: rated({ 'stalk strength': 7, drought: 4, 'leaf blight': 6, 'early vigour': 5 }),
    stature: 'tall, ear high',
    stewardshipNotes: 'ask the buyer whether the trait is taken before it is planted',
    placement: [
      {
        verdict: 'best',
        where: [{ on: 'environment', from: 190 }],
        reason: 'it answers to everything that is given',
        by: FENWICK,
      },
    ],
  },
  'wren-24': {
    ratings: rated({ 'yellowing on lime': 7, 'white mould': 4, standing: 8 }),
    stature: 'short and narrow',
    placement: [
      {
        verdict: 'care',
        where: [{ on: 'environment', from: 62 }],
        reason: 'white mould comes where the rows close early',
        by: FENWICK,
      },
    ],
  },
  'bobolink-27': {
    ratings: rated({ 'yellowing on lime': 4, 'white mould': 7, standing: 6 }),
  },
  'pipit-28': {
    treatments: [{ ...seedCoat, pricePerUnit: 7, protectsAgainst: ['root rot'] }],
    ratings: rated({ 'yellowing on lime': 6, 'white mould': 5, standing: 7 }),
  },
};

function rated(notes: Readonly<Record<string, number>>): NonNullable<Notes['ratings']> {
  return Object.entries(notes).map(([of, value]) => ({ of, value, scale: SCALE.id }));
}
