import type { PixelRange } from '../../engine/layers/pixels-over.ts';
import type { Raster } from '../../engine/layers/source.ts';
import type { TifImage } from './image.ts';
import { type Sampling, sizeOf } from './read-pixels.ts';

/** One image of the file and which of its pixels to read. */
export interface Choice {
  readonly image: TifImage;
  readonly sampling: Sampling;
}

/**
 * How to read a window of the full image with at most so many numbers: whole where it fits, else from the largest overview that fits, else every
 * k-th pixel. `images` are the full one first, then its overviews.
 */
export function chooseSampling(images: readonly TifImage[], window: PixelRange, mostNumbers: number): Choice {
  const [full, ...overviews] = images;
  const step = stepFor(window, full.samples, mostNumbers);
  if (step === 1) return { image: full, sampling: { ...window, step } };
  const smaller = overviews
    .filter(
      (own) => own.samples === full.samples && own.bits === full.bits && own.sampleKind === full.sampleKind,
    )
    .filter((own) => own.width < full.width && own.height < full.height)
    .sort((p, q) => q.width - p.width)
    .map((image) => ({ image, window: scaled(window, full, image) }));
  for (const { image, window: own } of smaller) {
    const extra = stepFor(own, image.samples, mostNumbers);
    // One much coarser than need be says less than every k-th pixel of the full image.
    const coarse = (full.width / image.width) * extra > 2 * step;
    if (!coarse && extra === 1) return { image, sampling: { ...own, step: 1 } };
  }
  return { image: full, sampling: { ...window, step } };
}

function stepFor(window: PixelRange, samples: number, mostNumbers: number): number {
  let step = 1;
  const numbers = () => {
    const { width, height } = sizeOf({ ...window, step });
    return width * height * samples;
  };
  while (numbers() > mostNumbers) step++;
  return Math.min(step, window.width, window.height);
}

function scaled(window: PixelRange, full: TifImage, image: TifImage): PixelRange {
  const [across, down] = [image.width / full.width, image.height / full.height];
  const col = Math.floor(window.col * across);
  const row = Math.floor(window.row * down);
  return {
    col,
    row,
    width: Math.min(image.width, Math.ceil((window.col + window.width) * across)) - col,
    height: Math.min(image.height, Math.ceil((window.row + window.height) * down)) - row,
  };
}

/** Where the pixels read lie: each one that was taken is the middle of the wider pixel it stands for. */
export function sampledRaster(
  full: TifImage,
  { image, sampling }: Choice,
  transform: Raster['transform'],
): Raster {
  const [a, b, c, d, e, f] = transform;
  const { col, row, step } = sampling;
  const [across, down] = [full.width / image.width, full.height / image.height];
  const shift = Math.floor(step / 2) + 0.5 - step / 2;
  const [left, top] = [across * (col + shift), down * (row + shift)];
  return {
    ...sizeOf(sampling),
    transform: [
      a * across * step,
      b * down * step,
      a * left + b * top + c,
      d * across * step,
      e * down * step,
      d * left + e * top + f,
    ],
  };
}
