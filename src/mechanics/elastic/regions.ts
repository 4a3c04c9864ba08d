/** Numbers of the regions of a plan: what stays of the stock, the part, and the slot round the part. Below 0: outside. */
export const FRAME = 0;
export const PART = 1;
export const SLOT = 2;
