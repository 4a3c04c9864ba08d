/** Faults of the path stage: the input asks for a path that cannot be run. */
import { fault, type Problem } from '../base/problem.ts';
import { short } from '../base/text.ts';
import type { Mm } from '../base/units.ts';
import type { Tab } from '../hold/holding.ts';

export function noRoomForTab(tab: Tab): Problem {
  return fault({
    code: 'tab-no-room',
    at: { at: [tab.at.x, tab.at.y] },
    found: `a tab ${short(tab.width)} mm wide at ${short(tab.at.x)}, ${short(tab.at.y)} on part ${tab.part + 1}`,
    wanted: 'an edge long enough for the tab and the cutter beside it',
    remedy: 'make the tab narrower, move it, or use a smaller cutter',
  });
}

export function noEntry(part: number): Problem {
  return fault({
    code: 'no-entry',
    found: `the tabs of part ${part + 1} and their ramps take up the whole edge`,
    wanted: 'a stretch of edge where the cutter can enter to full depth',
    remedy: 'ask for fewer or narrower tabs, or a smaller or centre-cutting cutter (its ramps are shorter)',
  });
}

export function pathVanished(part: number, cutter: Mm): Problem {
  return fault({
    code: 'no-path',
    found: `no path for a ${short(cutter)} mm cutter round part ${part + 1}`,
    wanted: 'an outline the cutter can run round',
    remedy: 'use a smaller cutter',
  });
}

export function noRoomForStub(stub: { readonly at: { readonly x: Mm; readonly y: Mm }; readonly width: Mm }): Problem {
  return fault({
    code: 'stub-no-room',
    at: { at: [stub.at.x, stub.at.y] },
    found: `a stub ${short(stub.width)} mm wide at ${short(stub.at.x)}, ${short(stub.at.y)}`,
    wanted: 'an edge long enough for the stub and the cutter on both sides of it',
    remedy: 'make the stub narrower, move it, or use a smaller cutter',
  });
}
