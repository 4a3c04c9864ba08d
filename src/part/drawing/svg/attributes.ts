import { MM_PER_INCH } from '../../../base/units.ts';
import type { DrawingFindings } from '../findings.ts';
import { MM_PER_UNIT, PX_PER_INCH, parseLength } from './values.ts';
import type { Element } from './xml.ts';

/** Size of the nearest viewport in user units, for percentages. */
export interface Viewport {
  readonly width: number;
  readonly height: number;
}

/** The attributes of one element; what is wrong is told with its line and column. */
export class SvgAttributes {
  broken = false;
  readonly element: Element;
  private readonly viewport: Viewport | null;
  private readonly findings: DrawingFindings;

  constructor(element: Element, viewport: Viewport | null, findings: DrawingFindings) {
    this.element = element;
    this.viewport = viewport;
    this.findings = findings;
  }

  text(name: string): string | undefined {
    return this.element.attributes.get(name);
  }

  /** In user units; an absent attribute is `absent`. */
  length(name: string, along: 'x' | 'y' | 'both', absent = 0): number {
    const text = this.text(name);
    if (text === undefined) return absent;
    const parsed = parseLength(text);
    if (!parsed.ok) {
      this.fail('bad-number', `${name}: ${parsed.found}`, 'a number, alone or with mm, cm, in, pt, pc, px or %');
      return absent;
    }
    const { number, unit } = parsed.value;
    if (unit === '' || unit === 'px') return number;
    const mm = MM_PER_UNIT[unit];
    // Inside the drawing an inch is 96 user units, whatever the viewBox makes of them later.
    if (mm !== undefined) return (number * mm * PX_PER_INCH) / MM_PER_INCH;
    if (unit === '%' && this.viewport !== null) return (number / 100) * share(this.viewport, along);
    this.fail('bad-units', `${name}="${text}"`, 'a length that does not hang on a font or an unknown width');
    return absent;
  }

  fail(code: string, found: string, wanted: string): void {
    this.broken = true;
    const { line, column, name } = this.element;
    this.findings.fault({
      code,
      at: { line, column },
      found: `<${name}>: ${found}`,
      wanted,
      remedy: 'correct this element, or export the drawing again',
    });
  }
}

/** SVG 1.1 section 7.10: a percentage of neither width nor height alone is one of the diagonal over root 2. */
function share(v: Viewport, along: 'x' | 'y' | 'both'): number {
  if (along === 'x') return v.width;
  return along === 'y' ? v.height : Math.sqrt((v.width * v.width + v.height * v.height) / 2);
}
