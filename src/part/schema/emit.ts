/** The job file's schema for editors and other programs. */
import * as z from 'zod';
import { jobSchema } from './schema.ts';

/** JSON Schema, draft 7, of the job file; deterministic. */
export function emitJobSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(jobSchema(1), { io: 'input', target: 'draft-7' }) as Record<string, unknown>;
  return { ...schema, title: 'Job', description: 'A small flat part: what it is, how it is held and cut' };
}
