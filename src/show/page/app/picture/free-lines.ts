/** Lines of the free view: the cutter's path with ISO 128 dashes made in the shader, edges of part and clamps. */
import * as THREE from 'three';
import { LineMaterial } from 'three/examples/jsm/lines/LineMaterial.js';
import { LineSegments2 } from 'three/examples/jsm/lines/LineSegments2.js';
import { LineSegmentsGeometry } from 'three/examples/jsm/lines/LineSegmentsGeometry.js';
import { flattenChain } from '../../../../geometry/flatten.ts';
import { pointAt } from '../../../../geometry/measure/segment.ts';
import { DWELL, HAND, RAPID } from '../../data/moves-pack.ts';
import type { FlatSegment } from '../../data/view-data.ts';
import { segmentOf } from '../../worker/field-run.ts';
import { loopOf } from '../../worker/wanted-field.ts';
import type { OpenProgram } from '../clock.ts';
import { BLUE, PURPLE, WIDE } from './ink.ts';

const PATH_VERTEX = /* glsl */ `
in vec3 place;
in float run;
in float rapid;
out float vRun;
flat out float vRapid;
void main() {
  vRun = run;
  vRapid = rapid;
  gl_Position = projectionMatrix * viewMatrix * vec4(place, 1.0);
  // A little nearer than the floor the cutter's end has just made.
  gl_Position.z -= 0.0004;
}`;

const PATH_FRAGMENT = /* glsl */ `
precision highp float;
uniform float uScale;
uniform bool uPath;
uniform bool uRapids;
uniform vec3 uPathInk;
uniform vec3 uRapidInk;
in float vRun;
flat in float vRapid;
out vec4 colour;
void main() {
  float p = vRun * uScale;
  if (vRapid > 0.5) {
    if (!uRapids || mod(p, 15.0) > 12.0) discard;
    colour = vec4(uRapidInk, 1.0);
  } else {
    float q = mod(p, 31.0);
    if (!uPath || (q > 24.0 && q < 27.0) || q > 28.0) discard;
    colour = vec4(uPathInk, 1.0);
  }
}`;

export interface PathLines {
  readonly lines: THREE.LineSegments;
  readonly uniforms: Readonly<Record<'uScale' | 'uPath' | 'uRapids', THREE.IUniform>>;
  /** First vertex of each move; one longer than the moves. */
  readonly firsts: Uint32Array;
}

/** Chords of arcs leave the curve by a hundredth of a millimetre. */
const CHORD = 0.01;

export function pathLines(program: OpenProgram, cutters: ReadonlySet<number>): PathLines {
  const { moves, view } = program;
  const places: number[] = [];
  const runs: number[] = [];
  const rapids: number[] = [];
  const firsts = new Uint32Array(moves.count + 1);
  let run = 0;
  let change = 0;
  let tool = 0;
  for (let i = 0; i < moves.count; i++) {
    firsts[i] = runs.length;
    while (change < view.changes.length && view.changes[change]![0] <= i) tool = view.changes[change++]![1];
    const kind = moves.kind[i]!;
    if (kind === DWELL || (tool !== 0 && !cutters.has(tool))) continue;
    const rapid = kind === RAPID || kind === HAND ? 1 : 0;
    const s = segmentOf(moves, i);
    const n =
      s.kind === 'line'
        ? 1
        : Math.max(4, Math.ceil(Math.abs(s.sweep) / (2 * Math.acos(Math.max(0, 1 - CHORD / s.radius)))));
    let [ax, ay, az] = [s.a.x, s.a.y, moves.z[i]!];
    for (let k = 1; k <= n; k++) {
      const p = k === n ? s.b : pointAt(s, k / n);
      const z = moves.z[i]! + ((moves.z[i + 1]! - moves.z[i]!) * k) / n;
      const next = run + Math.hypot(p.x - ax, p.y - ay, z - az);
      places.push(ax, ay, az, p.x, p.y, z);
      runs.push(run, next);
      rapids.push(rapid, rapid);
      run = next;
      [ax, ay, az] = [p.x, p.y, z];
    }
  }
  firsts[moves.count] = runs.length;
  return { ...drawn(places, runs, rapids), firsts };
}

function drawn(places: number[], runs: number[], rapids: number[]): Pick<PathLines, 'lines' | 'uniforms'> {
  const geometry = new THREE.BufferGeometry();
  geometry.setAttribute('place', new THREE.Float32BufferAttribute(places, 3));
  geometry.setAttribute('run', new THREE.Float32BufferAttribute(runs, 1));
  geometry.setAttribute('rapid', new THREE.Float32BufferAttribute(rapids, 1));
  const uniforms = {
    uScale: { value: 1 },
    uPath: { value: true },
    uRapids: { value: true },
    uPathInk: { value: ink(BLUE) },
    uRapidInk: { value: ink(PURPLE) },
  };
  const material = new THREE.ShaderMaterial({
    glslVersion: THREE.GLSL3,
    vertexShader: PATH_VERTEX,
    fragmentShader: PATH_FRAGMENT,
    uniforms,
  });
  const lines = new THREE.LineSegments(geometry, material);
  lines.frustumCulled = false;
  return { lines, uniforms };
}

/** Colours go to the screen as they are: no conversion of colour spaces. */
function ink(hex: string): THREE.Vector3 {
  const v = Number.parseInt(hex.slice(1), 16);
  return new THREE.Vector3((v >> 16) / 255, ((v >> 8) & 255) / 255, (v & 255) / 255);
}

/** Continuous wide edges of loops at given heights. */
export function edgeLines(loops: readonly (readonly FlatSegment[])[], heights: readonly number[]): LineSegments2 {
  const places: number[] = [];
  for (const loop of loops) {
    const points = flattenChain(loopOf(loop), CHORD);
    for (const z of heights)
      for (let i = 0; i + 1 < points.length; i++)
        places.push(points[i]!.x, points[i]!.y, z, points[i + 1]!.x, points[i + 1]!.y, z);
  }
  const geometry = new LineSegmentsGeometry();
  geometry.setPositions(places.length === 0 ? [0, 0, 0, 0, 0, 0] : places);
  return new LineSegments2(geometry, new LineMaterial({ color: 0x000000, linewidth: WIDE }));
}
