/**
 * XML text to a tree of elements with places. Strict: the first error of form refuses the drawing. Entities of a document
 * type are never defined nor fetched, so expansion bombs and external files are plain "undefined entity" errors.
 */
import { SaxesParser } from 'saxes';
import type { DrawingFindings } from '../findings.ts';
import { DEEPEST_NESTING } from '../limits.ts';

export interface Element {
  /** Local name; `other:` in front when it is not in the SVG name space. */
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: Element[];
  readonly line: number;
  readonly column: number;
}

const SVG_NAMESPACE = 'http://www.w3.org/2000/svg';

/** The root element, or null when the text is not well formed (told). */
export function parseXml(text: string, findings: DrawingFindings): Element | null {
  const parser = new SaxesParser({ xmlns: true });
  const open: Element[] = [];
  let root: Element | null = null;
  let place = { line: 1, column: 1 };
  parser.on('opentagstart', () => {
    place = { line: parser.line, column: parser.column };
  });
  parser.on('opentag', (tag) => {
    const element: Element = { name: nameOf(tag), attributes: attributesOf(tag.attributes), children: [], ...place };
    const parent = open.at(-1);
    if (parent === undefined) root = element;
    else parent.children.push(element);
    open.push(element);
    if (open.length > DEEPEST_NESTING) throw new Deep();
  });
  parser.on('closetag', () => open.pop());
  // The parser would carry on after an error; what follows one is not to be trusted.
  parser.on('error', (error) => {
    throw error;
  });
  try {
    parser.write(text).close();
  } catch (error) {
    tell(error, parser, findings);
    return null;
  }
  return root;
}

class Deep extends Error {}

function nameOf(tag: { readonly local: string; readonly uri: string }): string {
  return tag.uri === '' || tag.uri === SVG_NAMESPACE ? tag.local : `other:${tag.local}`;
}

function attributesOf(
  raw: Readonly<Record<string, { readonly name: string; readonly local: string; readonly value: string }>>,
): Map<string, string> {
  const map = new Map<string, string>();
  for (const { name, local, value } of Object.values(raw)) {
    // xlink:href is the older spelling of href; other prefixed attributes belong to other programs.
    if (name === local) map.set(name, value);
    else if (local === 'href' && !map.has('href')) map.set('href', value);
  }
  return map;
}

function tell(error: unknown, parser: SaxesParser<{ xmlns: true }>, findings: DrawingFindings): void {
  const place = { line: parser.line, column: parser.column };
  if (error instanceof Deep) {
    findings.fault({
      code: 'too-deep',
      at: place,
      found: `elements within elements, more than ${DEEPEST_NESTING} deep`,
      wanted: 'groups nested less deep',
      remedy: 'ungroup the drawing',
    });
    return;
  }
  const text = (error instanceof Error ? error.message : String(error)).replace(/^\d+:\d+: /, '').replace(/\.$/, '');
  const entity = text.includes('undefined entity');
  findings.fault({
    code: entity ? 'xml-entity' : 'bad-xml',
    at: place,
    found: entity
      ? 'an entity that XML itself does not define; definitions in the file are not followed'
      : `not well-formed XML: ${text}`,
    wanted: 'well-formed XML without entities of its own',
    remedy: 'export the drawing again as plain SVG',
  });
}
