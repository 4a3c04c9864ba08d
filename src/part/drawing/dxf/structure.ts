/** Sections of a DXF file: what the header says of units, the layers, the blocks, and where the entities are. */
import type { DrawingFindings } from '../findings.ts';
import { quoted } from '../number.ts';
import { REPEAT, type Tags } from './tags.ts';

/** Tags [start, end) of one entity; the first is its type (group 0). */
export interface TagRange {
  readonly type: string;
  readonly start: number;
  readonly end: number;
}

export interface DxfBlock {
  readonly name: string;
  readonly line: number;
  readonly baseX: number;
  readonly baseY: number;
  readonly entities: readonly TagRange[];
}

export interface LayerRow {
  readonly name: string;
  /** What stands on a layer that is off is hidden; on a frozen one, also all of a block inserted there. */
  readonly state: 'shown' | 'off' | 'frozen';
}

export interface Structure {
  /** $INSUNITS; null when the header has none. */
  readonly insertUnits: number | null;
  /** Layers the tables list, by their names in capitals: case does not tell layers apart. */
  readonly layers: ReadonlyMap<string, LayerRow>;
  readonly blocks: ReadonlyMap<string, DxfBlock>;
  readonly entities: readonly TagRange[];
}

export function readStructure(tags: Tags, findings: DrawingFindings): Structure {
  const found = {
    insertUnits: null as number | null,
    layers: new Map<string, LayerRow>(),
    blocks: new Map<string, DxfBlock>(),
    entities: [] as TagRange[],
  };
  let hasEntities = false;
  let ended = false;
  let i = 0;
  while (i < tags.length) {
    if (tags.is(i, 0, 'EOF')) {
      ended = true;
      break;
    }
    if (!tags.is(i, 0, 'SECTION')) {
      i++;
      continue;
    }
    const name = tags.code(i + 1) === 2 && i + 1 < tags.length ? tags.value(i + 1) : '';
    const end = sectionEnd(tags, i + 2, name, findings);
    if (name === 'HEADER') Object.assign(found, readHeader(tags, i + 2, end));
    if (name === 'TABLES') readLayers(tags, i + 2, end, found.layers);
    if (name === 'BLOCKS') readBlocks(tags, i + 2, end, found.blocks, findings);
    if (name === 'ENTITIES') {
      // Not push(...): a large drawing has more entities than a call may have arguments.
      found.entities = found.entities.concat(spans(tags, i + 2, end));
      hasEntities = true;
    }
    i = end;
  }
  tellMissing(tags, hasEntities, ended, findings);
  return found;
}

function tellMissing(tags: Tags, hasEntities: boolean, ended: boolean, findings: DrawingFindings): void {
  if (findings.faults.length > 0) return;
  const line = Math.max(1, tags.line(tags.length - 1));
  if (!hasEntities) {
    findings.fault({
      code: 'no-entities',
      at: { line },
      found: 'there is no ENTITIES section',
      wanted: 'a DXF drawing with an ENTITIES section',
      remedy: 'check that this is the right file, and export it again as ASCII DXF',
    });
  } else if (!ended) {
    findings.fault({
      code: 'cut-short',
      at: { line },
      found: 'the file ends without 0 EOF',
      wanted: 'pairs of lines up to 0 EOF',
      remedy: REPEAT,
    });
  }
}

/** Index of the tag after the section: its ENDSEC is stepped over, a missing one is told and the next SECTION or EOF ends it. */
function sectionEnd(tags: Tags, from: number, name: string, findings: DrawingFindings): number {
  for (let i = from; i < tags.length; i++) {
    if (tags.code(i) !== 0) continue;
    const value = tags.value(i);
    if (value === 'ENDSEC') return i;
    if (value === 'SECTION' || value === 'EOF') {
      findings.defect({
        code: 'no-endsec',
        at: { line: tags.line(i) },
        found: `section ${name} has no ENDSEC before ${value}`,
        wanted: '0 ENDSEC at the end of a section',
        remedy: 'compare what was read with the drawing',
      });
      return i;
    }
  }
  return tags.length;
}

function readHeader(tags: Tags, from: number, to: number): { insertUnits?: number | null } {
  for (let i = from; i + 1 < to; i++) if (tags.is(i, 9, '$INSUNITS')) return { insertUnits: tags.integer(i + 1) };
  return {};
}

function readLayers(tags: Tags, from: number, to: number, layers: Map<string, LayerRow>): void {
  for (const span of spans(tags, from, to)) {
    if (span.type !== 'LAYER') continue;
    let name = '';
    let state: LayerRow['state'] = 'shown';
    for (let i = span.start + 1; i < span.end; i++) {
      const code = tags.code(i);
      if (code === 2) name = tags.name(i);
      // Flag 1 is frozen; a negative colour is off.
      if (code === 70 && ((tags.integer(i) ?? 0) & 1) === 1) state = 'frozen';
      if (code === 62 && (tags.integer(i) ?? 0) < 0 && state === 'shown') state = 'off';
    }
    if (name !== '') layers.set(name.toUpperCase(), { name, state });
  }
}

function readBlocks(
  tags: Tags,
  from: number,
  to: number,
  blocks: Map<string, DxfBlock>,
  findings: DrawingFindings,
): void {
  let head: TagRange | null = null;
  let entities: TagRange[] = [];
  for (const span of spans(tags, from, to)) {
    if (span.type === 'BLOCK') {
      if (head !== null) unclosedBlock(tags, head, findings);
      head = span;
      entities = [];
    } else if (span.type === 'ENDBLK' && head !== null) {
      const block = blockOf(tags, head, entities);
      // Names are told apart without regard to case by the programs that write them.
      blocks.set(block.name.toUpperCase(), block);
      head = null;
    } else entities.push(span);
  }
  if (head !== null) unclosedBlock(tags, head, findings);
}

function unclosedBlock(tags: Tags, head: TagRange, findings: DrawingFindings): void {
  findings.fault({
    code: 'no-endblk',
    at: { line: tags.line(head.start) },
    found: `block ${quoted(blockOf(tags, head, []).name)} has no ENDBLK`,
    wanted: '0 ENDBLK at the end of a block',
    remedy: REPEAT,
  });
}

function blockOf(tags: Tags, head: TagRange, entities: readonly TagRange[]): DxfBlock {
  let [name, baseX, baseY] = ['', 0, 0];
  for (let i = head.start + 1; i < head.end; i++) {
    const code = tags.code(i);
    if (code === 2) name = tags.name(i);
    if (code === 10) baseX = tags.number(i) ?? 0;
    if (code === 20) baseY = tags.number(i) ?? 0;
  }
  return { name, line: tags.line(head.start), baseX, baseY, entities };
}

/** One span per group 0 tag in [from, to). */
function spans(tags: Tags, from: number, to: number): TagRange[] {
  const list: TagRange[] = [];
  let start = -1;
  for (let i = from; i <= to; i++) {
    if (i !== to && tags.code(i) !== 0) continue;
    if (start >= 0) list.push({ type: tags.value(start), start, end: i });
    start = i;
  }
  return list;
}
