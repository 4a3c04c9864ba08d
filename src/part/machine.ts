/** The mill of the job, each figure it leaves out taken from the stated light mill; and the stated drawer of cutters. */

import { DRAWER_HOLDER, type DrawerCutter, defaultDrawer, drawerTap } from '../trade/drawer.ts';
import { DEFAULT_MACHINE } from '../trade/machine.ts';
import { findThread } from '../trade/threads.ts';
import type { Desk } from './desk.ts';
import type { KeyPath } from './jsonc.ts';
import type { Cutter, Machine } from './part.ts';
import type { RawMachine } from './schema.ts';

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
    desk.fault(
      'machine-speeds',
      path,
      `lowest speed ${m.minSpeed}, highest ${m.maxSpeed} rev/min`,
      'a lowest speed below the highest',
      'mend minSpeed or maxSpeed',
    );
  }
  if (m.baseSpeed > m.maxSpeed) {
    desk.fault(
      'machine-speeds',
      path,
      `full power only from ${m.baseSpeed}, highest speed ${m.maxSpeed} rev/min`,
      'a base speed within the range',
      'mend baseSpeed',
    );
  }
}

/** The stated drawer as cutters numbered from 1, with the tap of every thread the job names. */
export function drawerCutters(threads: readonly string[], desk: Desk): Cutter[] {
  const taps = [...new Set(threads)].flatMap((name) => {
    const thread = findThread(name);
    return thread.kind === 'found' ? [drawerTap(thread.value)] : [];
  });
  const rows = [...defaultDrawer(), ...taps];
  desk.assume(
    'The cutters are those of the stated drawer: carbide end mills 2, 3, 4 and 6 mm, HSS slot drills 4, 6 and 10 mm, a spot drill, ' +
      'countersinks, a chamfer cutter, reamers of whole sizes 2 to 12 mm, drills 1 to 13 mm by 0.1, the tapping drills, 1/64 in steps to 1/2 in, the taps needed.',
  );
  return rows.map((row, i) => drawerCutter(row, i + 1));
}

function drawerCutter(row: DrawerCutter, number: number): Cutter {
  const { kind, diameter, flutes, fluteLength, stickOut, shank, material, centreCutting, cornerRadius, lead, thread } =
    row;
  const { diameter: holderDiameter, length } = DRAWER_HOLDER;
  return {
    ...{ number, kind, nominal: diameter, diameter, flutes, fluteLength, stickOut, shank, material, centreCutting },
    ...{ helixDeg: row.helix, cornerRadius, pointDeg: row.point, lead, thread },
    ...{ holder: { diameter: holderDiameter, length }, fromDrawer: true },
  };
}
