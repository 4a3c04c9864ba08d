/** Rows of the bench from run to run: a line each in a file of comma-separated values (RFC 4180), oldest first. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { cpus } from 'node:os';

const HEAD = ['day', 'node', 'machine', 'bench', 'row', 'value', 'unit', 'baseline', 'ratio', 'limit', 'answer'];

export class History {
  #file;
  #rows;
  #added = [];

  constructor(file) {
    this.#file = file;
    this.#rows = existsSync(file) ? parse(readFileSync(file, 'utf8')) : [];
  }

  /** The newest row of this name from an earlier run: what is compared, ratio or value, and the answer's checksum. */
  last(bench, name) {
    const row = this.#rows.findLast((r) => r.bench === bench && r.row === name);
    return row && { measured: Number(row.ratio || row.value), checksum: row.answer };
  }

  add(bench, row) {
    const { name, value, unit, baseline = '', ratio = '', limit = '', checksum } = row;
    const day = new Date().toISOString().slice(0, 10);
    const figures = [value, unit, baseline, ratio, limit].map((v) => (typeof v === 'number' ? short(v) : v));
    this.#added.push([day, process.version, machine(), bench, name, ...figures, checksum]);
  }

  save() {
    const kept = this.#rows.map((r) => HEAD.map((key) => r[key]));
    const lines = [HEAD, ...kept, ...this.#added].map((cells) => cells.map(quote).join(','));
    writeFileSync(this.#file, `${lines.join('\n')}\n`);
  }
}

const short = (v) => Number(v.toPrecision(4)).toString();
const quote = (v) => (/[",\n]/.test(v) ? `"${v.replaceAll('"', '""')}"` : `${v}`);

/** Seconds are comparable on one kind of machine only. */
function machine() {
  const all = cpus();
  return `${all.length} x ${all[0]?.model.trim() ?? 'unknown'}`;
}

function parse(text) {
  const [head, ...rows] = text.trim().split('\n').map(cellsOf);
  return rows.map((cells) => Object.fromEntries(head.map((key, i) => [key, cells[i]])));
}

function cellsOf(line) {
  return [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map((m) => m[1]?.replaceAll('""', '"') ?? m[2]);
}
