/**
 * What the layers of a DXF drawing are for where it has these names. Written by `outline`; a reader need only know `TAB`: what is
 * drawn there marks tabs, and is no edge. In SVG the group with the id `TABS_ID` has that meaning.
 */
export const LAYERS = { outline: 'OUTLINE', opening: 'OPENING', hole: 'HOLE', tab: 'TAB' } as const;

export const TABS_ID = 'tabs';
