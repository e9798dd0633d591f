import { ringsOf } from './clipping.ts';
import type { FieldDesign, Part, Point } from './design.ts';
import { environmentOf, seasonYield, type YieldAt } from './ground.ts';
import { boxOf, signedArea, stretchesOf } from './outline.ts';
import { round } from './turned-frame.ts';

const M2_PER_AC = 4046.8564224;
const LATTICE_M = 4;

/** What is so in the field, whatever the files say: measured on the design, on a lattice of 4 m. */
export function fieldTruth(design: FieldDesign): object {
  const lattice = latticeOf(design.parts);
  const environment = environmentOf(design.ground);
  const acres = acresOf(design.parts);
  const { truthClasses } = design;
  return {
    acres: round(acres, 3),
    environment_buPerAc: round(meanOver(lattice, environment), 1),
    acresByEnvironment: truthClasses.map((from_buPerAc, i) => {
      const below = truthClasses[i + 1] ?? Infinity;
      const inClass = meanOver(lattice, (u, v) => {
        const here = environment(u, v);
        return here >= from_buPerAc && here < below ? 1 : 0;
      });
      return { from_buPerAc, acres: round(acres * inClass, 1) };
    }),
    years: design.harvests.map(({ year, season, machine }) => ({
      year,
      meanYield_buPerAc: round(meanOver(lattice, seasonYield(design.ground, season)), 1),
      delay_s: machine.delay_s,
      smear_s: machine.smear_s,
      header_ft: machine.header_ft,
    })),
  };
}

/** Plane area of the parts, international acres. */
function acresOf(parts: readonly Part[]): number {
  return ringsOf(parts).reduce((total, ring) => total + signedArea(ring), 0) / M2_PER_AC;
}

/** Points 4 m apart all over the field. */
function latticeOf(parts: readonly Part[]): Point[] {
  const rings = ringsOf(parts);
  const box = boxOf(rings.flat());
  const points: Point[] = [];
  for (let v = box.v0 + LATTICE_M / 2; v < box.v1; v += LATTICE_M) {
    for (const [from, to] of stretchesOf(rings, 1, v)) {
      for (let u = Math.ceil(from / LATTICE_M) * LATTICE_M; u < to; u += LATTICE_M) points.push([u, v]);
    }
  }
  return points;
}

function meanOver(points: readonly Point[], at: YieldAt): number {
  return points.reduce((sum, [u, v]) => sum + at(u, v), 0) / points.length;
}
