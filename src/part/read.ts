/** From the text of a job file to the whole validated job (design 4.2). */
import { bad, good, type Outcome } from '../base/problem.ts';
import { MM_PER_INCH } from '../base/units.ts';
import { type Desk, desk, hasFault, type UnitName } from './desk.ts';
import { drawingLoops, type ReadFile } from './drawings.ts';
import { readHold } from './hold.ts';
import { notAJob } from './not-a-job.ts';
import type { Cutter, Finish, HoldRequest, Job, Part } from './part.ts';
import { readPart } from './part-reading.ts';
import { complainAbout } from './schema/complain.ts';
import { type Located, readJsonc } from './schema/jsonc.ts';
import { jobSchema, type RawCutter, type RawHold, type RawJob } from './schema/schema.ts';
import { drawerFileSchema, machineFileSchema } from './schema/schema-shop.ts';
import { correctCutters, readCutters } from './setting/cutter.ts';
import { drawerCutters, type WantedHole } from './setting/drawer.ts';
import { readMachine } from './setting/machine.ts';
import { materialOf } from './setting/material.ts';
import { otherFile } from './setting/other-file.ts';
import { readSetting } from './setting/setting.ts';

export interface ReadJobOptions {
  /** Supplies drawings, machine and cutter files named by the job. */
  readonly read: ReadFile;
  /** Overrules the job's own post. */
  readonly post?: string | undefined;
}

/**
 * The job, every length in millimetres and every default filled in, with cautions; or every fault found, each at its line.
 * `file` is the name used in messages and, without its ending, the name of a job that gives none.
 */
export function readJob(text: string, file: string, options: ReadJobOptions): Outcome<Job> {
  const other = notAJob(text, file);
  if (other !== null) return bad(other);
  const located = readJsonc(text, file);
  if (!located.ok) return located;
  const units = unitsOf(located.value);
  const parsed = jobSchema(scaleOf(units)).safeParse(located.value.value, { reportInput: false });
  if (!parsed.success) return bad(...complainAbout(parsed.error.issues, located.value, 'job'));
  return normalise(parsed.data, file, desk(units, located.value), options);
}

/** The same job asking to be held another way: the stated drawer follows what is asked for, a list of the person's own does not. */
export function jobAsking(job: Job, hold: HoldRequest): Job {
  if (!job.cutters.every((c) => c.fromDrawer)) return { ...job, hold };
  const unheard = desk(job.units, { place: () => ({}) });
  const drawer = drawerCutters(holesOf(job.part), screwThreads(hold), unheard);
  return { ...job, hold, cutters: correctCutters(drawer, new Set(), job.finish.measured, unheard) };
}

function normalise(raw: RawJob, file: string, at: Desk, options: ReadJobOptions): Outcome<Job> {
  const { read } = options;
  if (raw.units === undefined) at.assume('Lengths are in millimetres.');
  const material = materialOf(raw.material, ['material'], at);
  const part = readPart(raw.part, at, drawingLoops(read, at.units));
  const name = raw.name ?? nameFrom(file);
  if (raw.name === undefined) at.assume(`The job is called ${name}, after its file.`);
  const machine = machineOf(raw, at, read);
  const finish = finishOf(raw, at);
  const cutters = cuttersOf(raw, part, finish, at, read);
  const setting = part === undefined ? undefined : readSetting(raw, part.outline.loop, { cutters, machine }, at);
  const hold =
    part === undefined || setting === undefined ? undefined : readHold(raw.hold, part, material, setting, at);
  const stated = options.post ?? raw.post;
  const post = stated ?? 'standard';
  if (stated === undefined) {
    const metric = at.units === 'inch' ? ', which writes millimetres; `inch` writes inches' : '';
    at.assume(`The program is written for the post \`standard\`${metric}.`);
  }
  if (
    hasFault(at.problems) ||
    material === undefined ||
    part === undefined ||
    setting === undefined ||
    hold === undefined
  ) {
    return bad(...at.problems);
  }
  const job: Job = {
    name,
    units: at.units,
    material: material.name,
    part,
    ...setting,
    zero: raw.zero ?? 'stock',
    machine,
    cutters,
    hold,
    finish,
    post,
    defaults: at.defaults,
  };
  return good(job, at.problems);
}

/** Which units rule is needed before the schema can be built; a wrong value is the schema's to refuse. */
function unitsOf(located: Located): UnitName {
  const { value } = located;
  return typeof value === 'object' && value !== null && (value as { units?: unknown }).units === 'inch' ? 'inch' : 'mm';
}

function scaleOf(units: UnitName): number {
  return units === 'inch' ? MM_PER_INCH : 1;
}

function machineOf(raw: RawJob, at: Desk, read: ReadFile): Job['machine'] {
  if (typeof raw.machine !== 'string') return readMachine(raw.machine, ['machine'], at);
  const other = otherFile(raw.machine, ['machine'], 'machine', machineFileSchema, { desk: at, read });
  if (other === undefined) return readMachine({}, ['machine'], at);
  const { $schema: _schema, units: _units, ...figures } = other.raw;
  return readMachine(figures, [], other.desk);
}

function cuttersOf(raw: RawJob, part: Part | undefined, finish: Finish, at: Desk, read: ReadFile): readonly Cutter[] {
  const listed = listedCutters(raw, at, read);
  const cutters = listed?.cutters ?? drawerCutters(holesOf(part), screwThreads(raw.hold ?? 'auto'), at);
  const measured = new Set(listed?.raw.filter((c) => c.measured !== undefined).map((c) => c.number) ?? []);
  return correctCutters(cutters, measured, finish.measured, at);
}

function listedCutters(
  raw: RawJob,
  at: Desk,
  read: ReadFile,
): { raw: readonly RawCutter[]; cutters: Cutter[] } | undefined {
  if (raw.cutters === undefined) return undefined;
  if (typeof raw.cutters !== 'string') return { raw: raw.cutters, cutters: readCutters(raw.cutters, ['cutters'], at) };
  const other = otherFile(raw.cutters, ['cutters'], 'drawer', drawerFileSchema, { desk: at, read });
  if (other === undefined) return { raw: [], cutters: [] };
  return { raw: other.raw.cutters, cutters: readCutters(other.raw.cutters, ['cutters'], other.desk) };
}

function holesOf(part: Part | undefined): readonly WantedHole[] {
  return [...(part?.holes ?? []), ...(part?.edgeHoles ?? [])];
}

/** The backing plate is tapped for the screws that hold the part. */
function screwThreads(hold: RawHold | HoldRequest): string[] {
  return typeof hold === 'object' && hold.by === 'screws' ? [hold.thread] : [];
}

/** Left on the edge by roughing when the job says nothing (mm, common practice for cutters of 2 to 6 mm). */
const USUAL_ALLOWANCE = 0.2;

function finishOf(raw: RawJob, at: Desk): Finish {
  const given = raw.finish;
  if (given?.allowance === undefined) at.assume(`Roughing leaves ${at.say(USUAL_ALLOWANCE)} on the edge.`);
  if (given?.direction === undefined) at.assume("The way round the part is chosen by the machine's backlash.");
  return {
    allowance: given?.allowance ?? USUAL_ALLOWANCE,
    springPass: given?.springPass ?? false,
    stopToMeasure: given?.stopToMeasure ?? false,
    direction: given?.direction ?? 'auto',
    measured: given?.measured ?? null,
  };
}

function nameFrom(file: string): string {
  const last = file.split(/[\\/]/).at(-1) ?? '';
  const bare = last.replace(/\.[^.]*$/, '').trim();
  return bare === '' ? 'job' : bare;
}
