import type { Estimate } from './estimate.ts';
import type { GroundAnswer, GroundAnswers } from './finlay-wilkinson.ts';

/** Where a product's interval puts it. Gain and lead must both be told apart from the average product's. */
export type Belongs = 'best ground' | 'tough ground' | 'not told';

/** On the best ground belongs who gains more than the average product as ground gets better and leads it there; on the tough ground who gains less and leads it there. */
export function belongs(answer: GroundAnswer, answers: GroundAnswers): Belongs {
  const { gain, leadOnGood, leadOnTough } = answer;
  if (gain.low > 0 && leadOnGood.low > 0 && answer.most_buPerAc >= answers.good_buPerAc) return 'best ground';
  if (gain.high < 0 && leadOnTough.low > 0 && answer.least_buPerAc <= answers.tough_buPerAc)
    return 'tough ground';
  return 'not told';
}

/** One sentence about one product; it claims no more than its interval. `names` by product of the table. */
export function groundSentence(
  answer: GroundAnswer,
  answers: GroundAnswers,
  names: readonly string[],
): string {
  const name = names[answer.product];
  const { slope, gain } = answer;
  if (Number.isNaN(slope.value))
    return `${name} stood on ground of one kind only (${sites(answer.sites)} with a known environment): how it answers to ground cannot be told.`;
  if (answer.alone && answers.index !== 'what was told')
    return `${name} stood with no other product of two sites or more: its own yields measure the ground, so how it answers to that cannot be told.`;
  const gives = `${slope.value.toFixed(2)} bushels for each the site gives more`;
  if (!(answer.df > 0))
    return `${name} gave ${gives} over ${sites(answer.sites)}: too few to say how sure that is.`;
  const sure = `${figures(slope, 2)}, ${sites(answer.sites)}`;
  if (answer.alone)
    return `${name} gives ${gives} (${sure}); no other product stood with it to hold it against.`;
  const where = belongs(answer, answers);
  if (where === 'best ground')
    return `${name} belongs on the best ground: it gives ${gives} (${sure}), and at ${whole(answers.good_buPerAc)} bu/ac it leads the average product by ${figure(answer.leadOnGood)}.`;
  if (where === 'tough ground')
    return `${name} holds on the tough ground: it gives ${gives} (${sure}), and at ${whole(answers.tough_buPerAc)} bu/ac it leads the average product by ${figure(answer.leadOnTough)}.`;
  if (gain.low > 0)
    return `${name} gains more than the average product from better ground, ${gives} (${sure}), but ${standing(answer.leadOnGood, 'on the best')}.`;
  if (gain.high < 0)
    return `${name} gains less than the average product from better ground, ${gives} (${sure}), but ${standing(answer.leadOnTough, 'on the tough')}.`;
  return `${name} cannot be told from the average product in how it answers to ground: ${gives}, and anything from ${figures(slope, 2)} fits (${sites(answer.sites)})${onEither(answer)}.`;
}

/** The lineup in sentences: who belongs on the best ground, who holds on the tough, and what that rests on. */
export function groundSentences(answers: GroundAnswers, names: readonly string[]): string[] {
  const told = answers.products.filter(({ df }) => df > 0);
  if (told.length === 0)
    return [
      `How the products answer to ground cannot be told: no product stood at three sites of known environment.`,
    ];
  if (told.every(({ alone }) => alone))
    return answers.index === 'what was told'
      ? [...told.map((answer) => groundSentence(answer, answers, names)), measured(answers)]
      : [
          `How the products answer to ground cannot be told: none stood with another, and by its own yields no product differs from the average.`,
        ];
  const who = (where: Belongs) =>
    told
      .filter((answer) => belongs(answer, answers) === where)
      .map(
        ({ product, slope, sites: n }) =>
          `${names[product]} (${slope.value.toFixed(2)}, ${figures(slope, 2)}, ${sites(n)})`,
      );
  const best = who('best ground');
  const tough = who('tough ground');
  const best_buPerAc = whole(answers.good_buPerAc);
  const tough_buPerAc = whole(answers.tough_buPerAc);
  return [
    best.length > 0
      ? `On the best ground (${best_buPerAc} bu/ac and the like) belong ${listed(best)}.`
      : `No product is shown to belong on the best ground (${best_buPerAc} bu/ac and the like).`,
    tough.length > 0
      ? `On the tough ground (${tough_buPerAc} bu/ac and the like) hold ${listed(tough)}.`
      : `No product is shown to hold on the tough ground (${tough_buPerAc} bu/ac and the like).`,
    ...byChance(told.length, answers.level),
    measured(answers),
  ];
}

/** With many products some slopes stand out by chance; no need to say so of a few. */
function byChance(products: number, level: number): string[] {
  const each = (products * (1 - level)) / 2;
  return each < 0.5
    ? []
    : [
        `Of ${products} products some ${Math.round(each)} would seem steeper and as many flatter than the average by chance alone.`,
      ];
}

function measured({ index, told, sites: all, products }: GroundAnswers): string {
  if (index === 'what was told')
    return told < all
      ? `Ground is measured by the environments told with the trials at ${told} of ${sites(all)}, and at the others by the yields there.`
      : 'Ground is measured by the environments told with the trials.';
  if (index === 'other products')
    return 'Ground is measured for each product by the yields of the others at the site.';
  const count = products.filter(({ sites: n }) => n > 1).length;
  return `Ground is measured by the mean of all products at the site, the product itself among them: a slope of 1 is that of the average of ${count === products.length ? `these ${count}` : `the ${count} that stood at two sites or more`}, and chance draws slopes a little towards it.`;
}

function onEither({ leadOnTough, leadOnGood }: GroundAnswer): string {
  if (leadOnTough.low > 0 && leadOnGood.low > 0)
    return `; it leads on either ground, by ${figure(leadOnTough)} on the tough and ${figure(leadOnGood)} on the best`;
  if (leadOnTough.high < 0 && leadOnGood.high < 0)
    return `; it yields less on either ground, by ${figure(leadOnTough, -1)} on the tough and ${figure(leadOnGood, -1)} on the best`;
  return '';
}

function standing(lead: Estimate, where: string): string {
  if (lead.high < 0) return `${where} it yields less, by ${figure(lead, -1)}`;
  if (lead.low > 0) return `it never stood ${where} ground of these trials`;
  return `is not shown to lead it ${where}`;
}

/** `5.1 bu/ac (2.0 to 8.2)`; with sign −1 the other way about. */
function figure({ value, low, high }: Estimate, sign: 1 | -1 = 1): string {
  const turned = sign === 1 ? { value, low, high } : { value: -value, low: -high, high: -low };
  return `${turned.value.toFixed(1)} bu/ac (${figures(turned, 1)})`;
}

function figures({ low, high }: Pick<Estimate, 'low' | 'high'>, digits: number): string {
  return `${low.toFixed(digits)} to ${high.toFixed(digits)}`;
}

function whole(value: number): string {
  return value.toFixed(0);
}

function sites(count: number): string {
  return count === 1 ? '1 site' : `${count} sites`;
}

function listed(names: readonly string[]): string {
  return names.length < 2
    ? names.join('')
    : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}
