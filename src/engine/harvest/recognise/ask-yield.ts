import { sameCrop } from '../../math/crop-name.ts';
import type { MoistureBasis } from '../moisture-basis.ts';
import { howPlausible } from '../plausible-yield.ts';
import { bushelAndBase, type YieldUnit } from '../yield-unit.ts';
import type { YieldCheck } from './check-yield.ts';
import { rivals } from './choose-columns.ts';
import { type UnitSystem, unitsLeft } from './choose-unit.ts';
import { columnWords } from './column-words.ts';
import { type Meaning, POINTS, points } from './meaning.ts';
import type { PhysicsFit } from './physics-check.ts';
import type { CropReading } from './recognise-crop.ts';
import type { ColumnQuestion, ColumnReading } from './role.ts';
import type { Sample } from './sample.ts';
import type { Told } from './told.ts';

export interface YieldLook {
  readonly yields: readonly Meaning[];
  readonly check: YieldCheck | null;
  readonly crop: CropReading;
  readonly planned: string;
  readonly sample: Sample;
  readonly system: UnitSystem;
  readonly told: Told;
  readonly lbPerBu: number | null;
  /** Median, %; NaN where it is not recorded. */
  readonly moisture: number;
}

export interface YieldAnswer {
  /** Null where there is none, or none beyond doubt. */
  readonly reading: ColumnReading | null;
  /** The likeliest, whether or not there is a question about it; null where there is no candidate. */
  readonly proposed: ColumnReading | null;
  readonly basis: MoistureBasis;
  readonly because: string;
  readonly questions: readonly ColumnQuestion[];
}

/** Crops whose figures are looked at where nothing tells the crop; others sit too near to one of them. */
const CROPS = ['corn', 'soybean', 'wheat'];
/** A ratio this much nearer to 1 is clearly the better one. */
const CLEARER = 0.004;

/** What to take as yield, its unit and its basis, and what to ask: a person is asked wherever two readings are plausible. */
export function askYield(look: YieldLook): YieldAnswer {
  const [best] = look.yields;
  if (!best) return { reading: null, proposed: null, basis: 'unknown', because: '', questions: [] };
  const vying = rivals(look.yields, look.sample, look.lbPerBu);
  const doubtful = vying.length > 0 || points(best) < POINTS.accept;
  const unit = askUnit(best, look);
  const proposed = { column: best.column.name, unit: unit.unit };
  const basis = askBasis(best, look);
  const crop = askCrop(best, unit.unit, look);
  // With another crop the bushel is another, too.
  const questions = [unit.question, crop, basis.question, crop ? null : askBushel(look)].filter(
    (own) => own !== null,
  );
  if (doubtful)
    questions.unshift({
      about: 'yield column',
      options: [best, ...vying].map((own) => ({
        value: own.column.name,
        because: own.units[0].because.join(', '),
      })),
      proposed: 0,
    });
  return {
    reading: doubtful ? null : proposed,
    proposed,
    basis: basis.basis,
    because: [`named ${best.column.name}`, unit.because].filter((own) => own !== '').join('; '),
    questions,
  };
}

interface UnitAnswer {
  readonly unit: string;
  readonly because: string;
  readonly question: ColumnQuestion | null;
}

function askUnit(best: Meaning, { check, system, crop, planned }: YieldLook): UnitAnswer {
  const named = best.units[0].unit?.unit ?? 'unknown';
  const of = crop.crop ?? planned;
  if (best.told) {
    if (check?.slip)
      return {
        unit: named,
        because: '',
        question: {
          about: 'yield unit',
          options: [
            { value: named, because: 'its name says so' },
            {
              value: 'unknown',
              because: `it is ${check.slip.ratio.toPrecision(3)} times what flow and ground make: ${check.slip.because}`,
            },
          ],
          proposed: 0,
        },
      };
    return { unit: named, because: fitText(check), question: null };
  }
  const fits = check ? [...check.fits, ...check.otherBushel] : [];
  const byPhysics = [...new Set(fits.map((fit) => fit.units.yield as string))];
  if (byPhysics.length === 1) return { unit: byPhysics[0], because: fitText(check), question: null };
  const left = unitsLeft(best, system).filter((own) => own.unit !== null && (own.usual ?? 0) > 0);
  const options =
    byPhysics.length > 1
      ? byPhysics.map((value) => ({ value, because: fitText(check, value) }))
      : left.map((own) => ({
          value: own.unit?.unit ?? 'unknown',
          because: own.because.filter((one) => !one.startsWith('named')).join(', '),
        }));
  if (options.length === 1)
    return {
      unit: options[0].value,
      because: `figures plausible for ${of} in ${options[0].value}`,
      question: null,
    };
  return {
    unit: 'unknown',
    because: 'its unit is not told',
    question: options.length > 1 ? { about: 'yield unit', options, proposed: 0 } : null,
  };
}

function fitText(check: YieldCheck | null, unit?: string): string {
  const fits = check ? [...check.fits, ...check.otherBushel] : [];
  const fit = fits.find((own) => unit === undefined || own.units.yield === unit);
  if (!fit) return '';
  return `what flow and ground make${fit.basis === 'dry' ? ` dry at ${fit.grain.baseMoisture_pct} %` : ' as harvested'} in ${fit.units.yield} (ratio ${fit.ratio.toFixed(3)})${
    check?.fits.length === 0 ? `, counted at ${fit.grain.lbPerBu} lb a bushel` : ''
  }`;
}

function askBasis(best: Meaning, look: YieldLook): { basis: MoistureBasis; question: ColumnQuestion | null } {
  if (look.told.basis !== undefined) return { basis: look.told.basis, question: null };
  const words = columnWords(best.column.name);
  const named: MoistureBasis | null = /dry|_seca?_|_secc?o_|_sec_|trocken/.test(words)
    ? 'dry'
    : /wet|humed|humide|umid|feucht/.test(words)
      ? 'wet'
      : null;
  const bases = basesOf(look.check);
  if (named !== null) {
    if (bases.length !== 1 || bases[0] === named) return { basis: named, question: null };
    return {
      basis: named,
      question: {
        about: 'moisture basis',
        options: [
          { value: named, because: 'its name says so' },
          { value: bases[0], because: fitText(look.check) },
        ],
        proposed: 0,
      },
    };
  }
  if (bases.length === 1) return { basis: bases[0], question: null };
  const base = bushelAndBase(look.crop.crop ?? look.planned)?.baseMoisture_pct;
  // A point of moisture is about one part in a hundred of yield.
  const matters = bases.length > 1 || (base !== undefined && Math.abs(look.moisture - base) >= 1);
  if (!matters) return { basis: 'unknown', question: null };
  return {
    basis: 'unknown',
    question: {
      about: 'moisture basis',
      options: [
        {
          value: 'dry',
          because: bases.length > 1 ? 'flow and ground fit both' : 'most yields are given dry',
        },
        {
          value: 'wet',
          because:
            bases.length > 1
              ? 'flow and ground fit both'
              : `its name does not say, and the grain was at ${look.moisture.toFixed(1)} %`,
        },
      ],
      proposed: 0,
    },
  };
}

function basesOf(check: YieldCheck | null): PhysicsFit['basis'][] {
  const fits = check ? [...check.fits, ...check.otherBushel] : [];
  return [...new Set(fits.map(({ basis }) => basis))];
}

function askCrop(
  best: Meaning,
  unit: string,
  { crop, planned, sample, told, check }: YieldLook,
): ColumnQuestion | null {
  if (told.crop !== undefined) return null;
  if (crop.several)
    return {
      about: 'crop',
      options: crop.several.levels
        .slice(0, 10)
        .map((value) => ({ value, because: `in column ${crop.several?.column}` })),
      proposed: crop.level === null ? 0 : Math.min(9, crop.several.levels.indexOf(crop.level)),
    };
  if (crop.from !== 'the plan' || best.column.kind !== 'number') return null;
  const { p50 } = sample.figures(best.column);
  const sits = (own: string) => howPlausible(p50, unit as YieldUnit, own);
  const departure = check?.departure ?? {};
  const fits = Object.keys(departure);
  const plannedFits = fits.find((own) => sameCrop(own, planned));
  // Physics speaks for another crop only where it does not speak for the planned one nearly as well.
  const clearer = fits.filter(
    (own) => departure[own] < (plannedFits ? departure[plannedFits] - CLEARER : Infinity),
  );
  const against = fits.length > 0 && (plannedFits === undefined || clearer.length > 0);
  const asPlanned = sits(planned);
  if ((asPlanned === 'typical' || asPlanned === 'not told') && !against) return null;
  const others = (against ? clearer : CROPS)
    .filter((own) => !sameCrop(own, planned) && sits(own) === 'typical')
    .sort((a, b) => (departure[a] ?? 1) - (departure[b] ?? 1))
    .map((value) => ({
      value,
      because: `${figure(p50)} ${unit} is plausible for it${against ? ', and flow and ground make it so' : ''}`,
    }));
  if (others.length === 0) return null;
  if (against)
    return {
      about: 'crop',
      options: [...others, { value: planned, because: 'planned, though flow and ground make another yield' }],
      proposed: 0,
    };
  if (asPlanned === 'unusual')
    return {
      about: 'crop',
      options: [
        { value: planned, because: `planned, though ${figure(p50)} ${unit} is unusual for it` },
        ...others,
      ],
      proposed: 0,
    };
  return {
    about: 'crop',
    options: [
      ...others,
      { value: 'unknown', because: `${figure(p50)} ${unit} is no ${planned}, and nothing tells what it is` },
    ],
    proposed: others.length,
  };
}

function figure(value: number): string {
  return String(Number(value.toPrecision(3)));
}

function askBushel({ check, lbPerBu }: YieldLook): ColumnQuestion | null {
  const fit = check?.fits.length === 0 ? check.otherBushel[0] : undefined;
  if (!fit || lbPerBu === null) return null;
  return {
    about: 'bushel weight',
    options: [
      { value: String(fit.grain.lbPerBu), because: fitText(check) },
      { value: String(lbPerBu), because: 'a bushel of the crop' },
    ],
    proposed: 0,
  };
}
