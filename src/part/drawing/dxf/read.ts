import { nearest } from '../../../base/text.ts';
import { MM_PER_INCH } from '../../../base/units.ts';
import type { DrawingOptions, DrawingUnits, Layer } from '../drawing.ts';
import { count, type DrawingFindings } from '../findings.ts';
import { quoted } from '../number.ts';
import { Expander, type Placed } from './expand.ts';
import { readStructure, type Structure } from './structure.ts';
import { Tags } from './tags.ts';
import { insertUnits } from './units.ts';

export interface RawDrawing {
  readonly placed: readonly Placed[];
  readonly units: DrawingUnits;
  readonly layers: readonly Layer[];
}

/** ASCII DXF to shapes in drawing units. What is wrong goes to `findings`; with a fault there the shapes are incomplete. */
export function readDxf(text: string, options: DrawingOptions, findings: DrawingFindings): RawDrawing {
  const tags = new Tags(withNewlines(text), findings);
  const structure = readStructure(tags, findings);
  const expander = new Expander(tags, structure, findings, wantedLayer(options));
  const placed = findings.faults.length > 0 ? [] : expander.run();
  for (const [layer, entities] of expander.hidden) {
    findings.note({
      code: 'hidden-layer',
      at: {},
      found: `layer ${quoted(layer)} is off or frozen: ${entities} entities left out`,
      remedy: 'ask for the layer by name to read it',
    });
  }
  const layers = layersOf(structure, placed);
  if (options.layer !== undefined && placed.length === 0 && findings.faults.length === 0)
    unknownLayer(options.layer, layers, findings);
  return { placed, units: unitsOf(structure, options, findings), layers };
}

/** Lone carriage returns end lines in very old files. */
function withNewlines(text: string): string {
  return text.includes('\n') ? text : text.replaceAll('\r', '\n');
}

function wantedLayer(options: DrawingOptions): ((layer: string) => boolean) | null {
  const wanted = options.layer?.toUpperCase();
  return wanted === undefined ? null : (layer) => layer.toUpperCase() === wanted;
}

function layersOf(structure: Structure, placed: readonly Placed[]): Layer[] {
  const pieces = new Map<string, number>();
  for (const p of placed) count(pieces, p.source.layer, p.shape.curves.length);
  const names = new Set([...[...structure.layers.values()].map((l) => l.name), ...pieces.keys()]);
  return [...names].map((name) => ({
    name,
    hidden: (structure.layers.get(name.toUpperCase())?.state ?? 'shown') !== 'shown',
    pieces: pieces.get(name) ?? 0,
  }));
}

function unknownLayer(wanted: string, layers: readonly Layer[], findings: DrawingFindings): void {
  const names = layers.map((l) => l.name);
  const near = nearest(wanted, names);
  const list = names.length === 0 ? 'the drawing lists none' : names.slice(0, 12).map(quoted).join(', ');
  findings.fault({
    code: 'unknown-layer',
    at: {},
    found: `nothing is drawn on layer ${quoted(wanted)}`,
    wanted: `a layer with an outline; layers: ${list}`,
    remedy: near === undefined ? 'name one of these layers' : `did you mean ${quoted(near)}?`,
  });
}

function unitsOf(structure: Structure, options: DrawingOptions, findings: DrawingFindings): DrawingUnits {
  const stated = structure.insertUnits;
  const callers = {
    name: options.units,
    mmPerUnit: options.units === 'inch' ? MM_PER_INCH : 1,
    from: 'caller',
  } as const;
  if (stated === null || stated === 0) {
    findings.note({
      code: 'no-units',
      at: {},
      found: `the drawing states no units${stated === 0 ? ' ($INSUNITS 0)' : ''}: read as ${options.units}`,
      remedy: 'check one measurement against the drawing',
    });
    return callers;
  }
  const known = insertUnits(stated);
  if (known === undefined) {
    findings.fault({
      code: 'bad-units',
      at: {},
      found: `$INSUNITS ${stated}`,
      wanted: 'a unit a small part is drawn in: 1 inch, 4 mm, 5 cm, 6 m ... or 0 for none',
      remedy: 'set the drawing units and export again',
    });
    return callers;
  }
  return { ...known, from: 'drawing' };
}
