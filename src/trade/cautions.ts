/** The usual cautions, in our own words, for sheet, page and program head. They support the machine's manual and never replace it. */
import type { Sourced } from './source.ts';

export type CautionName =
  | 'eyes'
  | 'guards'
  | 'gloves'
  | 'stopped'
  | 'held'
  | 'clear'
  | 'dry run'
  | 'first part'
  | 'loose part'
  | 'swarf'
  | 'alone'
  | 'breakthrough'
  | 'judgement'
  | 'glue fumes'
  | 'brass needles'
  | 'iron dust'
  | 'acetal fire'
  | 'stainless burr'
  | 'leaded metal'
  | 'coolant mist'
  | 'magnesium';

export interface Caution extends Sourced {
  readonly name: CautionName;
  /** Complete sentence or two, for the person at the machine. */
  readonly text: string;
}

export function cautionText(name: CautionName): string {
  return CAUTIONS.find((c) => c.name === name)!.text;
}

const SHOP = 'university machine-shop guides built on OSHA 29 CFR 1910 Subpart O';
const published = (name: CautionName, text: string, source = SHOP): Caution => ({
  name,
  text,
  source,
  mark: 'published',
});
const practice = (name: CautionName, text: string): Caution => ({
  name,
  text,
  source: 'trade practice',
  mark: 'common practice',
});
const memory = (name: CautionName, text: string, source: string): Caution => ({
  name,
  text,
  source,
  mark: 'from memory',
});

export const CAUTIONS: readonly Caution[] = [
  published(
    'eyes',
    'Wear eye protection with side shields the whole time: chips are hot and sharp and fly far. Ordinary spectacles are not enough. A chip in the eye is rinsed out, not wiped.',
  ),
  published('guards', 'Have a guard or screen between the cutter and your face before the spindle turns.'),
  published(
    'gloves',
    'No gloves, rings, watches, loose sleeves or loose hair at a turning spindle. Gloves are for swarf, with the spindle stopped.',
  ),
  published(
    'stopped',
    'Stop the spindle before you touch the work, measure, or clear swarf. Isolate the machine before maintenance.',
  ),
  published(
    'held',
    'Check every clamp by hand before the start. Work that is not firmly held can be thrown out by the cutter.',
    'safety page of a mini-mill book',
  ),
  practice(
    'clear',
    'Look along the whole path for clamps, screw heads and jaws: cutter and holder must pass above or beside them.',
  ),
  published(
    'dry run',
    'Run the program once above the work with the spindle off and a finger on the stop button; know where the stop is.',
    'machine rules of a university workshop; trade practice',
  ),
  practice('first part', 'Cut the first part at reduced feed, ready to stop, and measure it before the next one.'),
  practice(
    'loose part',
    'Small parts come loose when the last support goes. Never catch one near a turning cutter; stop the spindle, hold the part, then saw or file the last support.',
  ),
  published('swarf', 'Clear swarf with a brush or hook, never with fingers, a rag or a strong air jet.'),
  published(
    'alone',
    'Do not hurry, and do not work tired or after alcohol. Keep children and pets away.',
    'workshop rules page',
  ),
  practice(
    'breakthrough',
    'A drill grabs as it breaks through and lifts thin stock: the work must be clamped down, and the feed eased.',
  ),
  practice(
    'judgement',
    'These figures are advice. The person at the machine decides, follows the maker\u2019s manual and local rules, and asks someone qualified when unsure.',
  ),
  memory(
    'glue fumes',
    'Cyanoacrylate bonds skin at once, and heating it to release the part gives irritating fumes: ventilate, and keep the face away.',
    'adhesive safety data sheets',
  ),
  practice('brass needles', 'Brass comes off as fine needles that fly: wear a face shield as well as eye protection.'),
  practice(
    'iron dust',
    'Cast iron makes abrasive dust: cut dry, draw the dust off with a vacuum, keep it out of lungs and off the slides.',
  ),
  memory(
    'acetal fire',
    'Acetal chips burn with a flame that can hardly be seen and give off formaldehyde: keep the cut cool, clear the chips often.',
    'acetal material data sheets',
  ),
  practice('stainless burr', 'Stainless burrs and ribbons are razor-sharp and strong: never pull them by hand.'),
  practice('leaded metal', 'This metal contains lead: wash your hands before eating, and do not blow the dust about.'),
  practice('coolant mist', 'Do not breathe coolant mist: use the least that keeps the cut cool, and ventilate.'),
  published(
    'magnesium',
    'Not for magnesium: its chips burn, and water, foam or carbon dioxide make it worse. Dry sand or class D powder is needed.',
    'DGUV Information 209-090e',
  ),
];

/** Said on every sheet and page, in this order. */
export const USUAL_CAUTIONS: readonly CautionName[] = [
  'eyes',
  'guards',
  'gloves',
  'held',
  'clear',
  'dry run',
  'first part',
  'stopped',
  'swarf',
  'loose part',
  'breakthrough',
  'alone',
  'judgement',
];
