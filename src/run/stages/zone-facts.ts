import type { Surface } from '../../engine/grid/field-grid.ts';
import { eachCellUnder } from '../../engine/layers/area-share.ts';
import type { GroundFacts, GroundFigure, GroundSoil } from '../../engine/lineup/ground-facts.ts';
import type { Zoning } from '../../engine/zones/zoning.ts';
import type { FieldResult, OtherLayer, SoilLayer } from '../results.ts';

/** What placement rules may ask of each zone: its environment, the other layers, the soil's value and columns of numbers, and what soils it is made of. */
export function zoneFacts(
  field: FieldResult,
  zoning: Zoning,
  soils: SoilLayer | null,
  layers: readonly OtherLayer[],
): GroundFacts[] {
  const areas = soils ? soilAreas(field, zoning, soils) : [];
  const surfaces = [
    ...layers.map(({ label, unit, values }) => ({ name: label, unit, ofZone: means(field, zoning, values) })),
    ...(soils ? [{ name: soils.column, unit: soils.unit, ofZone: means(field, zoning, soils.values) }] : []),
  ];
  return zoning.zones.map((zone, k) => ({
    zone: zone.name,
    environment_buPerAc: zone.known ? zone.environment_buPerAc : NaN,
    figures: [
      ...surfaces.map(({ name, unit, ofZone }) => ({ name, unit, ...ofZone[k] })),
      ...(soils ? columnFigures(soils, areas[k], zone.area_m2) : []),
    ],
    soils: soils ? zoneSoils(soils, areas[k], zone.area_m2) : [],
  }));
}

type Mean = Pick<GroundFigure, 'mean' | 'knownShare'>;

/** Area-weighted mean of a surface by zone. */
function means({ grid }: FieldResult, { label, zones }: Zoning, values: Surface): Mean[] {
  const sum = new Float64Array(zones.length);
  const known = new Float64Array(zones.length);
  for (let cell = 0; cell < values.length; cell++) {
    if (Number.isNaN(values[cell])) continue;
    sum[label[cell]] += grid.area[cell] * values[cell];
    known[label[cell]] += grid.area[cell];
  }
  return zones.map((zone, k) => shareMean(sum[k], known[k], zone.area_m2));
}

function shareMean(sum: number, known: number, area: number): Mean {
  return known > 0
    ? { mean: sum / known, knownShare: Math.min(1, known / area) }
    : { mean: NaN, knownShare: 0 };
}

/** Area of each polygon of the soil map in each zone, m². */
function soilAreas({ grid }: FieldResult, { label, zones }: Zoning, { mapUnits }: SoilLayer): Float64Array[] {
  const areas = zones.map(() => new Float64Array(mapUnits.length));
  for (const [k, { region }] of mapUnits.entries())
    eachCellUnder(grid, region, (cell, area_m2) => {
      areas[label[cell]][k] += area_m2;
    });
  return areas;
}

function zoneSoils({ mapUnits, nameColumn }: SoilLayer, areas: Float64Array, area_m2: number): GroundSoil[] {
  return mapUnits.flatMap(({ columns }, k) => {
    if (areas[k] === 0) return [];
    const name = nameColumn === null ? undefined : columns.get(nameColumn);
    const words = [...columns].map(([column, value]): [string, string] => [column, String(value)]);
    return [
      {
        name: name === undefined ? null : String(name),
        share: areas[k] / area_m2,
        words: new Map(words),
      },
    ];
  });
}

/** Columns of numbers of the soil map, by area of the soils that have one. */
function columnFigures({ mapUnits }: SoilLayer, areas: Float64Array, area_m2: number): GroundFigure[] {
  const sums = new Map<string, { sum: number; known: number }>();
  for (const [k, { columns }] of mapUnits.entries()) {
    if (areas[k] === 0) continue;
    for (const [name, value] of columns) {
      if (typeof value !== 'number') continue;
      const { sum, known } = sums.get(name) ?? { sum: 0, known: 0 };
      sums.set(name, { sum: sum + areas[k] * value, known: known + areas[k] });
    }
  }
  return [...sums].map(([name, { sum, known }]) => ({ name, unit: '', ...shareMean(sum, known, area_m2) }));
}
