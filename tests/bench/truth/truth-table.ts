import { run } from '../../../src/run/run.ts';
import { knownOf } from './known-of-world.ts';
import { type Score, scoreOf } from './score.ts';
import { trueWorld, type WorldDesign } from './true-world.ts';

/** From here on there is something to gain, and under this there is not, $/ac. */
const REAL = 2;
const NOTHING = 0.5;

/** Makes so many fields of a kind, plans each by what would be known of it, and scores the plans by what is true. */
export async function scoresOf(
  design: Omit<WorldDesign, 'seed'>,
  seed: number,
  count: number,
): Promise<Score[]> {
  const scores: Score[] = [];
  for (let k = 0; k < count; k++) {
    const world = trueWorld({ ...design, seed: seed + k });
    const { plan, inputs } = knownOf(world);
    scores.push(scoreOf(world, plan, await run(plan, inputs)));
  }
  return scores;
}

/** What all those scores come to. */
export function truthRow(scores: readonly Score[]) {
  const real = scores.filter(({ attainable }) => attainable >= REAL);
  const nothing = scores.filter(({ attainable }) => attainable < NOTHING);
  return {
    attainable: meanOf(scores, ({ attainable }) => attainable),
    real: real.length,
    captured: meanOf(real, ({ captured }) => captured) / meanOf(real, ({ attainable }) => attainable),
    claimed: meanOf(scores, ({ claimed }) => claimed),
    gain: meanOf(scores, ({ gain }) => gain),
    held: shareOf(scores, ({ held }) => held),
    below: shareOf(scores, ({ below }) => below),
    width: meanOf(scores, ({ width }) => width),
    knowing: meanOf(scores, ({ knowing }) => knowing),
    short: meanOf(scores, ({ attainable, captured }) => attainable - captured),
    nothing: nothing.length,
    saidFlat: shareOf(nothing, ({ verdict }) => verdict !== 'map'),
    saidMap: shareOf(real, ({ verdict }) => verdict === 'map'),
    gainOfMap: meanOf(
      scores.filter(({ verdict }) => verdict === 'map'),
      ({ gain }) => gain,
    ),
  };
}

export type TruthRow = ReturnType<typeof truthRow>;

function meanOf(scores: readonly Score[], of: (score: Score) => number): number {
  return scores.reduce((sum, own) => sum + of(own), 0) / scores.length;
}

function shareOf(scores: readonly Score[], of: (score: Score) => boolean): number {
  return meanOf(scores, (own) => Number(of(own)));
}
