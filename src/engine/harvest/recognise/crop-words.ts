/**
 * Words a crop goes by in file names and columns, whole, between underscores; those of several words first. English and the commonest words of the languages
 * columns are named in; no source lists them. Crops that are none of the field's own are told apart, so that they are not taken for the planned one.
 */
const CROP_WORDS: readonly (readonly [crop: string, words: string])[] = [
  ['sweet corn', 'sweet_?corn'],
  ['popcorn', 'pop_?corn'],
  ['silage', '((corn|maize|mais)_)?(silage|ensilage)|silomais'],
  ['dry bean', '(dry|edible|navy|pinto|kidney|lima|mung|faba|fava|broad|snap)_?beans?'],
  ['chickpea', 'chick_?peas?|garbanzos?'],
  ['peanut', 'peanuts?|groundnuts?'],
  ['sugar beet', '(sugar_?)?beets?|zuckerruben?|remolacha'],
  ['sugar cane', 'sugar_?cane|cana_de_azucar'],
  ['buckwheat', 'buckwheat|buchweizen|sarrasin'],
  ['soybean', 'soy|soya|(soy|soya|soja)_?beans?|beans?|soja|soia|sojabohnen?'],
  ['corn', 'corn|maize|maiz|milho|mais|kornermais'],
  ['wheat', 'wheat|durum|trigo|(winter|sommer)?weizen|frumento|(winter|zomer)?tarwe|pszenica|ble'],
  ['barley', 'barley|cebada|cevada|(winter|sommer)?gerste|(winter|zomer)gerst|orzo|jeczmien|orge'],
  ['oats', 'oats?|avena|aveia|avoine|hafer|haver'],
  ['sorghum', 'sorghum|milo|sorgo|hirse'],
  ['canola', 'canola|rape|rape_?seed|(winter)?raps|colza'],
  ['sunflower', 'sunflowers?|girasol|tournesol|sonnenblumen?'],
  ['cotton', 'cotton|algodon|algodao'],
  ['rye', 'rye|(winter)?roggen|seigle|centeno'],
  ['pea', 'peas|erbsen?|guisantes?'],
  ['lentil', 'lentils?|linsen|lentejas?'],
  ['flax', 'flax|linseed|lein'],
  ['millet', 'millet'],
  ['rice', 'rice|arroz|reis'],
  ['triticale', 'triticale'],
  ['alfalfa', 'alfalfa|lucerne'],
  ['potato', 'potato(es)?|kartoffeln?|papas'],
  ['mustard', 'mustard'],
  ['safflower', 'safflower'],
];

const PATTERNS = CROP_WORDS.map(([crop, words]) => [crop, new RegExp(`_(${words})(?=_)`, 'g')] as const);

/** The crops a text speaks of in whole words, each once: none of `McBean North`, `Beane_east` or `Wheatley`; dry beans are no soybeans. */
export function cropsIn(text: string): string[] {
  let words = wordsOf(text);
  const crops: string[] = [];
  for (const [crop, pattern] of PATTERNS) {
    const without = words.replace(pattern, '_');
    if (without !== words) crops.push(crop);
    words = without;
  }
  return crops;
}

/** Letters alone, in words between underscores; `McBean` is one word, `CornYield` are two. */
function wordsOf(text: string): string {
  const plain = text
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/Ma?c[A-Z]/g, (own) => own.toLowerCase())
    .replace(/([a-z])([A-Z])/g, '$1_$2')
    .toLowerCase();
  return `_${plain}_`.replace(/[^a-z]+/g, '_');
}
