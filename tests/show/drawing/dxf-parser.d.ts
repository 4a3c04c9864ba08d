/** The part of dxf 5.3.1 used here; the package brings no types. */
declare module 'dxf' {
  export class Helper {
    constructor(contents: string);
    readonly parsed: { readonly header: { readonly insUnits?: number }; readonly entities: readonly unknown[] } | null;
  }
}
