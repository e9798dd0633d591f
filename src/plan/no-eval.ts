import { z } from 'zod';

/** The page's policy forbids building code from text: the schema library must not try. Imported before any schema. */
z.config({ jitless: true });
