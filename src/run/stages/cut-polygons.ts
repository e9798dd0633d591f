import type { Crs } from '../../engine/geodesy/crs.ts';
import { ringToFrame } from '../../engine/geodesy/field-frame.ts';
import { regionArea } from '../../engine/geometry/area.ts';
import { extentOf, extentsMeet } from '../../engine/geometry/extent.ts';
import { overlayWith } from '../../engine/geometry/overlay.ts';
import { regionFromRings } from '../../engine/geometry/region-from-rings.ts';
import type { Region } from '../../engine/geometry/ring.ts';
import type { Issue } from '../../engine/issue.ts';
import type { Source } from '../../engine/layers/source.ts';
import type { FieldResult } from '../results.ts';
import { ringToLonLatOf } from './place-source.ts';

/** What a polygon of a source has of the field; records count from 0. */
export interface CutPolygon {
  readonly record: number;
  readonly region: Region;
  readonly area_m2: number;
}

export interface CutPolygons {
  readonly pieces: readonly CutPolygon[];
  /** Records that have no piece, by why; those without a shape stand in the reader's own account already. */
  readonly aside: ReadonlyMap<number, 'outside-field' | 'shape-not-usable'>;
  readonly issues: readonly Issue[];
}

/** A piece of the field under this is none, m². */
const LEAST_M2 = 0.01;

/** The polygons of a source cut to the field. */
export function cutPolygons(source: Source, crs: Crs, field: FieldResult): CutPolygons {
  const withField = overlayWith(field.region);
  const fieldExtent = extentOf(field.region.map(({ outer }) => outer));
  const pieces: CutPolygon[] = [];
  const aside = new Map<number, 'outside-field' | 'shape-not-usable'>();
  const issues: Issue[] = [];
  for (const [record, rings] of source.rings.entries()) {
    if (!rings || rings.length === 0) continue;
    const inFrame = rings.map((ring) => ringToFrame(field.frame, ringToLonLatOf(crs, ring)));
    // Of a map of a whole county most lies elsewhere, and nobody asks how well it is drawn.
    if (!extentsMeet(extentOf(inFrame), fieldExtent)) {
      aside.set(record, 'outside-field');
      continue;
    }
    // A line that crosses itself is split, not refused: the map is somebody else's and the share it moves is small.
    const drawn = regionFromRings(inFrame, `${source.file} › record ${record + 1}`, { crossing: 'split' });
    // A polygon past mending is left out and told; the rest of the map still serves.
    issues.push(
      ...drawn.issues.map((issue) =>
        issue.severity === 'error' ? { ...issue, severity: 'warning' as const } : issue,
      ),
    );
    if (drawn.region.length === 0) {
      aside.set(record, 'shape-not-usable');
      continue;
    }
    const region = withField(drawn.region).inside;
    const area_m2 = regionArea(region);
    if (area_m2 < LEAST_M2) aside.set(record, 'outside-field');
    else pieces.push({ record, region, area_m2 });
  }
  return { pieces, aside, issues };
}
