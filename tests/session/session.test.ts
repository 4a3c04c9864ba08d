/** A session that is changed and stopped answers as if it had been opened a moment ago. */
import { beforeAll, describe, expect, it } from 'vitest';
import { describeProblem, type Outcome } from '../../src/base/problem.ts';
import { makeJob } from '../../src/job.ts';
import type { Made } from '../../src/session/made.ts';
import { openSession, type Session, type SessionAnswer } from '../../src/session/session.ts';
import { planFile } from '../../src/show/plan-file.ts';
import { ROOT, readBesides, shippedPost } from '../helpers.ts';
import { leverOnPlate } from '../lever-job.ts';
import { runs, SEED } from '../runs.ts';
import { changed } from './changes.ts';

const options = { file: 'job.json', read: readBesides(ROOT), post: shippedPost };

function open(job: unknown, stopped?: () => boolean): Session {
  const session = openSession(JSON.stringify(job, null, 1), stopped === undefined ? options : { ...options, stopped });
  if (!session.ok) throw new Error(session.problems.map(describeProblem).join('\n'));
  return session.value;
}

function answered<T>(answer: SessionAnswer<T>): Outcome<T> {
  if (answer.kind === 'stopped') throw new Error('stopped, and nobody asked for it');
  return answer.outcome;
}

/** All that is written, and all that is told. */
function bytesOf(made: Outcome<Made>): string {
  const told = made.problems.map(describeProblem);
  if (!made.ok) return told.join('\n');
  return [...told, ...made.value.programs.map((p) => p.text), JSON.stringify(planFile(made.value))].join('\n');
}

describe('a session', () => {
  it(`gives the bytes of a fresh make after each of ${runs(200)} changes (seed ${SEED})`, () => {
    const session = open(leverOnPlate());
    const seen = { made: 0, refused: 0, unread: 0 };
    for (const text of changed(leverOnPlate(), runs(200), SEED)) {
      const fresh = makeJob({ ...options, text });
      const read = session.change(text);
      const kept = read.ok ? answered(session.finish()) : read;
      expect(bytesOf(kept as Outcome<Made>), text).toBe(bytesOf(fresh));
      seen[!read.ok ? 'unread' : fresh.ok ? 'made' : 'refused']++;
    }
    expect(seen.made).toBeGreaterThan(runs(200) / 3);
    expect(seen.refused + seen.unread).toBeGreaterThan(0);
  }, 900_000);

  it('keeps its job when another cannot be read', () => {
    const session = open(leverOnPlate());
    const before = session.job;
    expect(session.change('{').ok).toBe(false);
    expect(session.job).toBe(before);
  });

  it('what a change leaves alone stays the same object', () => {
    const session = open(leverOnPlate());
    const { part, stock, machine } = session.job;
    expect(session.change(JSON.stringify({ ...leverOnPlate(), finish: { allowance: 0.1 } })).ok).toBe(true);
    expect(session.job.finish.allowance).toBe(0.1);
    expect([session.job.part === part, session.job.stock === stock, session.job.machine === machine]).toEqual([
      true,
      true,
      true,
    ]);
  });
});

describe('tabs that are tried', () => {
  it('are held where they are put, and the job of the session stays', () => {
    const session = open(leverOnPlate());
    const job = session.job;
    const tabs = {
      at: [
        { x: 16, y: 5 },
        { x: 16, y: -5 },
        { x: -6, y: 0 },
      ],
      width: 2,
      height: 1,
    };
    const tried = answered(session.tryTabs(tabs));
    if (!tried.ok) throw new Error(tried.problems.map(describeProblem).join('\n'));
    expect(tried.value.holding.tabs).toHaveLength(3);
    for (const tab of tried.value.holding.tabs) expect([tab.width, tab.height]).toEqual([2, 1]);
    expect(session.job).toBe(job);
    const off = answered(session.tryTabs({ at: [{ x: 16, y: 20 }] }));
    expect(off.problems.map((p) => p.code)).toContain('tab-off-edge');
  });
});

describe('a stop', () => {
  let asked = 0;
  let whole: string;

  beforeAll(() => {
    whole = bytesOf(answered(open(leverOnPlate(), () => ++asked < 0).finish()));
  });

  it('at any check point of the work leaves the session as it was: asked again, it gives the same bytes', () => {
    expect(asked).toBeGreaterThan(5);
    let stopAt = 0;
    let count = 0;
    const session = open(leverOnPlate(), () => ++count === stopAt);
    // Through one session, later and later; what had been worked out by then is not asked for again.
    let stops = 0;
    for (stopAt = 1; stopAt <= asked; stopAt += Math.max(1, Math.floor(asked / 6))) {
      count = 0;
      if (session.finish().kind === 'stopped') stops++;
    }
    expect(stops).toBeGreaterThan(2);
    stopAt = 0;
    expect(bytesOf(answered(session.finish()))).toBe(whole);
  }, 300_000);
});
