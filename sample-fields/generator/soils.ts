import { difference, intersection, partsOf, ringsOf } from './clipping.ts';
import { contours } from './contours.ts';
import type { FieldDesign, Outline, Part } from './design.ts';
import { reliefOf, textureOf, type YieldAt } from './ground.ts';
import { boxOf, smoothed } from './outline.ts';

/** A soil of the survey. Contour units follow the lie of the land from the poorest up; a spot is drawn by hand. */
export interface MapUnitDesign {
  readonly symbol: string;
  readonly soil: string;
  readonly rating_buPerAc: number;
  readonly water_in: number;
  readonly slope_pct: number;
  readonly where: { readonly from: number } | { readonly spot: Outline };
}

/** A unit of all ground from `from` bu/ac up to where the next begins. */
export function contourUnit(
  symbol: string,
  soil: string,
  rating_buPerAc: number,
  water_in: number,
  slope_pct: number,
  from: number,
): MapUnitDesign {
  return { symbol, soil, rating_buPerAc, water_in, slope_pct, where: { from } };
}

export interface SoilPolygon {
  readonly unit: MapUnitDesign;
  readonly part: Part;
}

/** The survey reaches past the field by this much, as surveys do. */
const MARGIN_M = 160;
const STEP_M = 20;
/** A surveyor does not draw less: half an acre. */
const SMALLEST_M2 = 2000;

/** Polygons that cover the field and its surroundings once, without gaps or overlaps. */
export function soilPolygons(design: FieldDesign, seed: number): SoilPolygon[] {
  const box = surveyBox(design);
  const frame: Outline = [
    [box.u0, box.v0],
    [box.u1, box.v0],
    [box.u1, box.v1],
    [box.u0, box.v1],
  ];
  const spots = design.soils.flatMap((unit) =>
    'spot' in unit.where
      ? [{ unit, rings: ringsOf([{ outer: smoothed(unit.where.spot, 2), holes: [] }]) }]
      : [],
  );
  const bands = design.soils.flatMap((unit) =>
    'from' in unit.where ? [{ unit, from: unit.where.from }] : [],
  );
  const drawn = surveyorsEye(design, seed);
  const above = bands.map(({ from }) =>
    from === -Infinity
      ? [frame]
      : intersection(
          contours(drawn, from, box, STEP_M, SMALLEST_M2).map((outline) => smoothed(outline, 1)),
          [frame],
        ),
  );
  const taken = spots.flatMap(({ rings }) => rings);
  const shapes = [
    ...bands.map(({ unit }, i) => ({
      unit,
      rings: difference(above[i], [...(above[i + 1] ?? []), ...taken]),
    })),
    ...spots,
  ];
  return shapes.flatMap(({ unit, rings }) => partsOf(rings).map((part) => ({ unit, part })));
}

/** Relief as a survey sees it: right in the large, a little off in the small. */
function surveyorsEye(design: FieldDesign, seed: number): YieldAt {
  const relief = reliefOf(design.ground);
  const error = textureOf({ ...design.ground.texture, seed, shortest_m: 180, longest_m: 420 });
  return (u, v) => relief(u, v) + error(u, v);
}

/** Whole steps, so that contours end on its rim. */
function surveyBox(design: FieldDesign) {
  const box = boxOf(ringsOf(design.parts).flat());
  const down = (value: number) => Math.floor((value - MARGIN_M) / STEP_M) * STEP_M;
  const up = (value: number) => Math.ceil((value + MARGIN_M) / STEP_M) * STEP_M;
  return { u0: down(box.u0), v0: down(box.v0), u1: up(box.u1), v1: up(box.v1) };
}
