import type { FieldDesign } from './design.ts';
import { environmentOf, seasonYield } from './ground.ts';
import { boxOf, partsContain, signedArea } from './outline.ts';
import { round } from './turned-frame.ts';

const M2_PER_AC = 4046.8564224;
const SAMPLE_M = 4;

/** What is so in the field, whatever the files say: measured on the design, on a lattice of 4 m. */
export function fieldTruth(design: FieldDesign): object {
  const environment = environmentOf(design.ground);
  const seasons = design.harvests.map((harvest) => seasonYield(design.ground, harvest.season));
  const box = boxOf(design.parts.flatMap((part) => part.outer));
  const grown = design.truthClasses.map(() => 0);
  const sums = seasons.map(() => 0);
  let sum = 0;
  let count = 0;
  for (let u = box.u0; u < box.u1; u += SAMPLE_M) {
    for (let v = box.v0; v < box.v1; v += SAMPLE_M) {
      if (!partsContain(design.parts, u, v)) continue;
      const here = environment(u, v);
      grown[design.truthClasses.findLastIndex((from) => here >= from)]++;
      seasons.forEach((season, i) => {
        sums[i] += season(u, v);
      });
      sum += here;
      count++;
    }
  }
  const acres = areaOf(design) / M2_PER_AC;
  return {
    acres: round(acres, 3),
    environment_buPerAc: round(sum / count, 1),
    acresByEnvironment: design.truthClasses.map((from_buPerAc, i) => ({
      from_buPerAc,
      acres: round((acres * grown[i]) / count, 1),
    })),
    years: design.harvests.map(({ year, machine }, i) => ({
      year,
      meanYield_buPerAc: round(sums[i] / count, 1),
      delay_s: machine.delay_s,
      smear_s: machine.smear_s,
      header_ft: machine.header_ft,
    })),
  };
}

/** Plane area of the design, m². */
function areaOf(design: FieldDesign): number {
  return design.parts
    .flatMap((part) => [signedArea(part.outer), ...part.holes.map((hole) => -Math.abs(signedArea(hole)))])
    .reduce((total, area) => total + area, 0);
}
