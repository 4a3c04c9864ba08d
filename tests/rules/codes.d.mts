/** Sorted codes for each group, `[title, codes]`. */
export function codesOf(root: string): [title: string, codes: string[]][];
/** The list as it stands in the README between its two marks. */
export function codeList(root: string): string;
