/** What a block asks for, once its words have been sorted into modal groups. */

/** The codes of one block by modal group; -1 where the block has none. Reused block by block. */
export interface BlockCodes {
  readonly group: Int16Array;
  readonly gColumn: Int16Array;
  readonly mGroup: Int16Array;
  readonly mColumn: Int16Array;
  /** Motion code written on the line, -1 if none. */
  explicit: number;
  /** Motion that the line makes, written or repeated; -1 if none. */
  motion: number;
  /** Column to blame for the motion: its code, or the first axis word. */
  motionColumn: number;
  /** No S, T or M word, and no G word but perhaps one for the motion. */
  plain: boolean;
}

export function emptyPlan(): BlockCodes {
  const groups = {
    group: new Int16Array(14),
    gColumn: new Int16Array(14),
    mGroup: new Int16Array(10),
    mColumn: new Int16Array(10),
  };
  return { ...groups, explicit: -1, motion: -1, motionColumn: 1, plain: false };
}
