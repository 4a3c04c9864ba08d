/** The usual cautions of milling, with what the material adds. Basis: 29 CFR 1910.133, 1910.212, 1910.242(b) and common practice. */

export function usualCautions(material: string | null): string[] {
  return [...USUAL, ...(material === null ? [] : (BY_MATERIAL.find(([name]) => name.test(material))?.[1] ?? []))];
}

const USUAL: readonly string[] = [
  'Wear eye protection with side shields; ordinary spectacles do not count.',
  'Keep the guards on and stand clear of the line in which chips fly.',
  'No gloves, rings, watches, loose sleeves or loose hair near a turning spindle.',
  'Stop the spindle before touching the work, measuring or clearing swarf; use a brush, never fingers or a rag.',
  'See that plate, clamps and cutter are tight, and that clamps and screw heads clear the holder.',
  'Run dry above the work first with a finger on the stop, then the first part at reduced feed.',
  'Expect a small part to let go when its last support is cut; no program here cuts it, the bench does, with the part held.',
  'This page advises. The maker’s manual, local rules and the person at the machine decide; ask someone qualified when unsure.',
];

const BY_MATERIAL: readonly (readonly [RegExp, readonly string[]])[] = [
  [/^CuZn/, ['Brass throws fine needles a long way: wear a face shield, and hold the work against being pulled up.']],
  [/^EN-GJL/, ['Cast-iron dust: collect it with a vacuum and keep it off slides and out of lungs.']],
  [
    /^EN-AW/,
    ['Aluminium sticks to a dry cutter: a built-up edge breaks small cutters. Keep its fine dust away from flame.'],
  ],
  [
    /^POM/,
    ['Acetal chips burn with a flame that is hard to see and give formaldehyde: keep the cutter sharp and cool.'],
  ],
  [
    /^(1\.4|C45|O1|S275|11SMn)/,
    ['Steel chips come off hot and sharp: keep them off the skin and away from anything that burns.'],
  ],
];
