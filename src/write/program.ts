/** CONTRACT: the written programs, with what each line came from. */
export interface WrittenProgram {
  /** File name, e.g. `lifting-lever.ngc`. */
  readonly file: string;
  readonly setup: number;
  readonly text: string;
  /** Operation spans; `block` numbers are line numbers from 1. */
  readonly operations: readonly { readonly id: number; readonly from: number; readonly to: number }[];
  /** Lines at which the program may be restarted: each is followed by its whole needed state. */
  readonly restarts: readonly { readonly block: number; readonly title: string }[];
  /** For line n (index n - 1): the index of the move it came from, or -1 for head and frame. */
  readonly moveOfLine: readonly number[];
}
