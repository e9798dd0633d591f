import type { MoistureBasis } from '../moisture-basis.ts';
import { howPlausible } from '../plausible-yield.ts';
import { bushelAndBase, YIELD_UNITS, type YieldUnit } from '../yield-unit.ts';
import { askCrop, CROPS, figure } from './ask-crop.ts';
import type { YieldCheck } from './check-yield.ts';
import { rivals } from './choose-columns.ts';
import { unitsLeft } from './choose-unit.ts';
import { columnWords } from './column-words.ts';
import { type Meaning, POINTS, points } from './meaning.ts';
import type { PhysicsFit } from './physics-check.ts';
import type { ColumnQuestion, ColumnReading } from './role.ts';
import { RARE } from './role-units.ts';
import type { YieldLook } from './yield-look.ts';

export interface YieldAnswer {
  /** Null where there is none, or none beyond doubt. */
  readonly reading: ColumnReading | null;
  /** The likeliest, whether or not there is a question about it; null where there is no candidate. */
  readonly proposed: ColumnReading | null;
  readonly basis: MoistureBasis;
  readonly because: string;
  readonly questions: readonly ColumnQuestion[];
}

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
        // What flow and ground say, they say of the best.
        unit: own === best ? unit.unit : askUnit(own, { ...look, check: null }).unit,
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

function askUnit(best: Meaning, look: YieldLook): UnitAnswer {
  const { check, system, crop, planned } = look;
  const of = crop.crop ?? planned;
  if (best.told) return askTold(best, look);
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

/** A unit that name or file tell is asked about where flow and ground make another yield, or no crop gives so much; what a person said is not. */
function askTold(best: Meaning, look: YieldLook): UnitAnswer {
  const { check, crop, planned, told } = look;
  const named = best.units[0].unit?.unit ?? 'unknown';
  const confirmed = check !== null && check.fits.length + check.otherBushel.length > 0;
  if (confirmed || told.columns?.yield?.unit !== undefined)
    return { unit: named, because: fitText(check), question: null };
  const { slip = null } = check ?? {};
  const p50 = best.column.kind === 'number' ? look.sample.figures(best.column).p50 : NaN;
  const odd = isImplausible(p50, named, look);
  if (!odd && !slip) return { unit: named, because: '', question: null };
  const of = crop.crop ?? planned;
  const others = odd
    ? YIELD_UNITS.filter(
        (own) => own !== named && !RARE.includes(own) && howPlausible(p50, own, of) === 'typical',
      ).map((value) => ({ value, because: `${figure(p50)} ${value} is plausible for ${of}` }))
    : [];
  const options = [
    { value: named, because: `its name says so${odd ? `, though ${figure(p50)} ${named} is no ${of}` : ''}` },
    ...others,
    {
      value: 'unknown',
      because: slip
        ? `it is ${slip.ratio.toPrecision(3)} times what flow and ground make: ${slip.because}`
        : 'another unit, or figures that are off',
    },
  ];
  // A name goes before a slip that may be in any of the other columns; figures no crop gives go before the name.
  return {
    unit: odd ? 'unknown' : named,
    because: '',
    question: { about: 'yield unit', options, proposed: odd ? 1 : 0 },
  };
}

/** Whether no crop the file may be of gives such figures in a unit. Of several crops, the figures of all say nothing. */
function isImplausible(p50: number, unit: string, { crop, planned, told }: YieldLook): boolean {
  if (crop.several || !(p50 > 0)) return false;
  const assumed = crop.from === 'the plan' && told.crop === undefined;
  return [crop.crop ?? planned, ...(assumed ? CROPS : [])].every(
    (own) => howPlausible(p50, unit as YieldUnit, own) === 'implausible',
  );
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
  const named: MoistureBasis | null = /dry|_sec(c?[ao])?_|trocken|_drog|_such[ay]_/.test(words)
    ? 'dry'
    : /wet|humed|humide|umid|feucht|_nat(te)?_|mokr/.test(words)
      ? 'wet'
      : null;
  const bases = basesOf(look.check);
  if (named !== null) {
    if (bases.length !== 1 || bases[0] === named) return { basis: named, question: null };
    return {
      basis: 'unknown',
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
