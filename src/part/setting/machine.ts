/** The mill of the job, each figure it leaves out taken from the stated light mill. */
import { DEFAULT_MACHINE } from '../../trade/machine.ts';
import type { Desk } from '../desk.ts';
import type { Machine } from '../part.ts';
import type { KeyPath } from '../schema/jsonc.ts';
import type { RawMachine } from '../schema/schema.ts';

export function readMachine(raw: RawMachine | undefined, path: KeyPath, desk: Desk): Machine {
  const given = raw ?? {};
  const stated = Object.fromEntries(
    Object.entries(DEFAULT_MACHINE).map(([k, v]) => [k, v.value]),
  ) as unknown as Machine;
  const machine = { ...stated, ...defined(given) } as Machine;
  // A slow machine that states only its highest speed still has a base speed within it.
  const base = given.baseSpeed ?? Math.min(stated.baseSpeed, machine.maxSpeed);
  tellAssumed(raw, { ...machine, baseSpeed: base }, desk);
  checkMachine({ ...machine, baseSpeed: base }, path, desk);
  return { ...machine, baseSpeed: base };
}

function defined<T extends object>(given: T): Partial<T> {
  return Object.fromEntries(Object.entries(given).filter(([, v]) => v !== undefined)) as Partial<T>;
}

function tellAssumed(raw: RawMachine | undefined, m: Machine, desk: Desk): void {
  const missing = (Object.keys(DEFAULT_MACHINE) as (keyof Machine)[]).filter((k) => raw?.[k] === undefined);
  if (missing.length === 0) return;
  const words: Readonly<Record<keyof Machine, string>> = {
    maxSpeed: `highest speed ${m.maxSpeed} rev/min`,
    minSpeed: `lowest speed ${m.minSpeed} rev/min`,
    baseSpeed: `full power from ${m.baseSpeed} rev/min`,
    power: `power ${m.power} W`,
    efficiency: `efficiency ${m.efficiency}`,
    travel: `travel ${m.travel.map((t) => desk.say(t)).join(' by ')}`,
    rapid: `rapid ${desk.say(m.rapid)} a minute`,
    maxFeed: `fastest feed ${desk.say(m.maxFeed)} a minute`,
    acceleration: `acceleration ${desk.say(m.acceleration)} a second squared`,
    backlash: `backlash ${desk.say(m.backlash)}`,
    runout: `runout ${desk.say(m.runout)}`,
    coolant: m.coolant === 'none' ? 'no coolant' : m.coolant,
    tapping: `tapping by ${m.tapping}`,
  };
  desk.assume(`The machine is taken as a light mill: ${missing.map((k) => words[k]).join(', ')}.`);
}

function checkMachine(m: Machine, path: KeyPath, desk: Desk): void {
  if (m.minSpeed >= m.maxSpeed) {
    desk.fault({
      code: 'machine-speeds',
      at: path,
      found: `lowest speed ${m.minSpeed}, highest ${m.maxSpeed} rev/min`,
      wanted: 'a lowest speed below the highest',
      remedy: 'mend minSpeed or maxSpeed',
    });
  }
  if (m.baseSpeed > m.maxSpeed) {
    desk.fault({
      code: 'machine-speeds',
      at: path,
      found: `full power only from ${m.baseSpeed}, highest speed ${m.maxSpeed} rev/min`,
      wanted: 'a base speed within the range',
      remedy: 'mend baseSpeed',
    });
  }
}
