import { describe, expect, it } from 'vitest';
import { recogniseCrop } from '../../../../src/engine/harvest/recognise/recognise-crop.ts';
import type { TextColumn } from '../../../../src/engine/layers/source.ts';
import { columnsOf, table } from '../../layers/small-source.ts';

const ofFile = (file: string, planned = 'corn') => {
  const { crop, from } = recogniseCrop(table({ a: [1] }, file), null, planned);
  return [crop, from];
};
const ofTexts = (texts: readonly string[], planned: string, said?: string) => {
  const [column] = columnsOf({ Crop: texts }) as TextColumn[];
  return recogniseCrop(table({ a: [1] }), column, planned, said);
};

describe('the crop by the name of a file', () => {
  it.each([
    ['Home 80 soybeans 2023.csv', 'soybean'],
    ['SOYBEANS23.shp', 'soybean'],
    ['north_beans_2022.csv', 'soybean'],
    ['HomeSoybeanYield.csv', 'soybean'],
    ['all.gpkg › wheat', 'wheat'],
    ['Mais 2021.csv', 'corn'],
    ['blé.csv', 'wheat'],
    ['Wintergerste-2021.csv', 'barley'],
    // Crops without a bushel here, as the name has them.
    ['sorghum 2023.csv', 'sorghum'],
    ['milo_2023.csv', 'sorghum'],
    ['Canola-west.csv', 'canola'],
    ['sunflowers.csv', 'sunflower'],
    ['cotton24.csv', 'cotton'],
    ['Rye.csv', 'rye'],
    ['field peas.csv', 'pea'],
    ['dry_beans.csv', 'dry bean'],
    ['sweet corn 2020.csv', 'sweet corn'],
    ['corn silage.csv', 'silage'],
    ['Buckwheat.csv', 'buckwheat'],
  ])('%s is of %s', (file, crop) => {
    expect(ofFile(file)).toEqual([crop, 'file name']);
  });

  it.each([
    'McBean North.csv',
    'MacBeanFarm.csv',
    'Beane_east.csv',
    'Gerst farm/yield.csv',
    'Soybean ground\\home.csv',
    'Wheatley.csv',
    'Cornwall.csv',
    'Oatman.csv',
    'Cottonwood.csv',
    'Maison.csv',
    'corn after soybeans.csv',
  ])('%s does not tell it', (file) => {
    expect(ofFile(file)).toEqual(['corn', 'the plan']);
  });

  it('is the planned one by whatever word', () => {
    expect(ofFile('sorghum.csv', 'Milo')).toEqual(['Milo', 'file name']);
    expect(ofFile('maize.csv', 'Corn')).toEqual(['Corn', 'file name']);
  });
});

describe('the crop said of a file of several', () => {
  const texts = ['Corn', 'Corn', 'Soybeans', 'Dry beans'];

  it('is looked up in its column, whatever is planned', () => {
    expect(ofTexts(texts, 'corn', 'soybean')).toEqual({
      crop: 'soybean',
      from: 'the plan',
      several: { column: 'Crop', levels: ['Corn', 'Soybeans', 'Dry beans'] },
      level: 'Soybeans',
    });
    expect(ofTexts(texts, 'corn').level).toBe('Corn');
    expect(ofTexts(texts, 'wheat', 'Maize').level).toBe('Corn');
  });

  it('has no records where the column does not name it', () => {
    expect(ofTexts(texts, 'corn', 'wheat')).toMatchObject({ crop: 'wheat', level: null });
    expect(ofTexts(['Corn', 'Corn'], 'corn', 'soybean')).toMatchObject({
      crop: 'soybean',
      several: { levels: ['Corn'] },
      level: null,
    });
    expect(ofTexts(['Corn', 'Corn'], 'wheat', 'corn')).toMatchObject({ crop: 'corn', several: null });
  });
});
