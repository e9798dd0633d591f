import { z } from 'zod';

/** How the parts of a plan name a file it rests on. */
export const sourceId = z.string().min(1).max(80);
