/** All kinds of planted fault. */

import { AXIAL_KINDS } from './axial-kinds.ts';
import { CONTROL_KINDS } from './control-kinds.ts';
import { DEPTH_KINDS } from './depth-kinds.ts';
import { HEAD_KINDS } from './head-kinds.ts';
import { HOLD_KINDS } from './hold-kinds.ts';
import { HOLE_KINDS } from './hole-kinds.ts';
import { JOB_KINDS } from './job-kinds.ts';
import type { Kind } from './kind.ts';
import { LANGUAGE_KINDS } from './language-kinds.ts';
import { OPEN_KINDS } from './open-kinds.ts';
import { PATH_KINDS } from './path-kinds.ts';
import { ROOM_KINDS } from './room-kinds.ts';
import { SPINDLE_KINDS } from './spindle-kinds.ts';
import { STATE_KINDS } from './state-kinds.ts';
import { STOP_KINDS } from './stop-kinds.ts';
import { STUB_KINDS } from './stub-kinds.ts';

export const KINDS: readonly Kind[] = [
  ...PATH_KINDS,
  ...DEPTH_KINDS,
  ...OPEN_KINDS,
  ...HOLE_KINDS,
  ...ROOM_KINDS,
  ...AXIAL_KINDS,
  ...SPINDLE_KINDS,
  ...STATE_KINDS,
  ...HEAD_KINDS,
  ...JOB_KINDS,
  ...STOP_KINDS,
  ...STUB_KINDS,
  ...LANGUAGE_KINDS,
  ...CONTROL_KINDS,
  ...HOLD_KINDS,
];
