/**
 * The field drawn by walking each ray through its cells: exact walls at any angle, stock sides included. Blocks of cells whose
 * greatest height lies under the ray are stepped over whole. Rays are parallel (parallel projection), so one direction serves all.
 */
import * as THREE from 'three';
import { BLOCK } from '../../worker/worker-talk.ts';
import type { FieldNow } from '../store.ts';
import { CUT_DEEP, CUT_SHALLOW, GOUGE, GOUGE_LINE, STOCK_TOP, UNCUT_DOT, UNCUT_GROUND } from './ink.ts';

const VERTEX = /* glsl */ `
out vec3 vWorld;
out vec3 vFace;
void main() {
  vWorld = (modelMatrix * vec4(position, 1.0)).xyz;
  vFace = normal;
  gl_Position = projectionMatrix * viewMatrix * vec4(vWorld, 1.0);
}`;

const FRAGMENT = /* glsl */ `
precision highp float;
precision highp int;
precision highp sampler2D;
uniform sampler2D uHeights;
uniform sampler2D uCoarse;
uniform sampler2D uMarks;
uniform ivec2 uCells;
uniform ivec2 uBlocks;
uniform vec2 uOrigin;
uniform float uCell;
uniform float uBottom;
uniform float uTop;
uniform vec3 uRay;
uniform bool uMarked;
uniform mat4 uClip;
uniform vec3 uStock;
uniform vec3 uShallow;
uniform vec3 uDeep;
uniform vec3 uGouge;
uniform vec3 uGougeLine;
uniform vec3 uUncut;
uniform vec3 uUncutDot;
in vec3 vWorld;
in vec3 vFace;
out vec4 colour;

const float B = ${BLOCK}.0;
const int MOST_BLOCKS = 512;

float height(ivec2 c) { return texelFetch(uHeights, clamp(c, ivec2(0), uCells - 1), 0).r; }

vec3 levelNormal(ivec2 c, float h) {
  float l = height(c - ivec2(1, 0)), r = height(c + ivec2(1, 0));
  float d = height(c - ivec2(0, 1)), u = height(c + ivec2(0, 1));
  float steep = 1.7 * uCell;
  float gx = abs(r - h) < steep && abs(h - l) < steep ? (r - l) / (2.0 * uCell) : 0.0;
  float gy = abs(u - h) < steep && abs(h - d) < steep ? (u - d) / (2.0 * uCell) : 0.0;
  return normalize(vec3(-gx, -gy, 1.0));
}

// Away from the standing cells around: smooth walls from square cells.
vec3 wallNormal(ivec2 c, float z) {
  vec2 sum = vec2(0.0);
  for (int j = -3; j <= 3; j++)
    for (int i = -3; i <= 3; i++)
      if (height(c + ivec2(i, j)) < z - 1e-4) sum += vec2(i, j) / max(1.0, float(i * i + j * j));
  return dot(sum, sum) < 1e-8 ? vec3(-normalize(uRay.xy + 1e-9), 0.0) : vec3(normalize(sum), 0.0);
}

int markAt(ivec2 c) { return uMarked ? int(texelFetch(uMarks, c, 0).r * 255.0 + 0.5) : 0; }

void paint(vec3 p, int mark, vec3 n, bool level, bool side) {
  float shade = 0.7 + 0.3 * max(0.0, dot(n, normalize(vec3(0.35, -0.55, 0.76))));
  vec3 base = mix(uShallow, uDeep, clamp((uTop - p.z) / (uTop - uBottom), 0.0, 1.0));
  if (side || (level && p.z > uTop - 1e-3)) base = uStock;
  if (mark == 1) base = mod(p.x + p.y + p.z, 6.0 * uCell) < uCell ? uGougeLine : uGouge;
  else if (mark == 2) base = mod(p.x, 4.0 * uCell) < 2.0 * uCell && mod(p.y, 4.0 * uCell) < 2.0 * uCell ? uUncutDot : uUncut;
  else base *= level ? mix(1.0, shade, 0.9) : shade * 0.9;
  vec4 clip = uClip * vec4(p, 1.0);
  gl_FragDepth = clip.z / clip.w * 0.5 + 0.5;
  colour = vec4(base, 1.0);
}

void main() {
  vec2 g0 = (vWorld.xy - uOrigin) / uCell;
  vec2 gd = uRay.xy / uCell;
  if (abs(gd.x) < 1e-6) gd.x = 1e-6;
  if (abs(gd.y) < 1e-6) gd.y = 1e-6;
  ivec2 turn = ivec2(sign(gd));
  vec2 ahead = max(vec2(turn), 0.0);
  float z0 = vWorld.z;
  float dz = abs(uRay.z) < 1e-6 ? -1e-6 : uRay.z;
  float last = ((dz < 0.0 ? uBottom : uTop) - z0) / dz;
  ivec2 block = clamp(ivec2(floor((g0 + gd * 1e-4) / B)), ivec2(0), uBlocks - 1);
  float s = 0.0;
  ivec2 before = ivec2(0);
  for (int i = 0; i < MOST_BLOCKS; i++) {
    vec2 t = ((vec2(block) + ahead) * B - g0) / gd;
    float leave = min(min(t.x, t.y), last);
    float high = texelFetch(uCoarse, block, 0).r;
    if (high >= min(z0 + dz * s, z0 + dz * leave) - 1e-4) {
      ivec2 low = block * int(B);
      ivec2 c = clamp(ivec2(floor(g0 + gd * (s + 1e-5))), low, min(low + int(B) - 1, uCells - 1));
      before = clamp(ivec2(floor(g0 + gd * max(0.0, s - 0.5 * uCell))), ivec2(0), uCells - 1);
      float a = s;
      for (int j = 0; j < 2 * int(B) + 2; j++) {
        vec2 tc = (vec2(c) + ahead - g0) / gd;
        float b = min(min(tc.x, tc.y), leave);
        float h = height(c);
        if (h > uBottom + 1e-4) {
          float za = z0 + dz * a;
          float zb = z0 + dz * b;
          if (za <= h + 1e-5) {
            vec3 p = vWorld + uRay * a;
            bool face = a <= 1e-6;
            bool level = face && vFace.z > 0.5;
            // The wall of a gouge belongs to the gouge before it.
            int mark = max(markAt(c), level || face ? 0 : markAt(before));
            paint(p, mark, level ? levelNormal(c, h) : face ? vFace : wallNormal(c, p.z), level, face);
            return;
          }
          if (zb <= h) {
            paint(vWorld + uRay * ((h - z0) / dz), markAt(c), levelNormal(c, h), true, false);
            return;
          }
        }
        // A gouge right through leaves nothing to colour: its hole is closed by a sheet at the bottom.
        else if (uMarked && dz < 0.0 && z0 + dz * b <= uBottom + 1e-3 && markAt(c) == 1) {
          paint(vWorld + uRay * last, 1, vec3(0.0, 0.0, 1.0), true, false);
          return;
        }
        if (b >= leave - 1e-6) break;
        before = c;
        if (tc.x < tc.y) c.x += turn.x; else c.y += turn.y;
        if (c.x < 0 || c.y < 0 || c.x >= uCells.x || c.y >= uCells.y) break;
        a = b;
      }
    }
    if (leave >= last) break;
    if (t.x < t.y) block.x += turn.x; else block.y += turn.y;
    if (block.x < 0 || block.y < 0 || block.x >= uBlocks.x || block.y >= uBlocks.y) break;
    s = leave;
  }
  discard;
}`;

/** A box the size of the stock whose inside is the field. */
export class FieldBox {
  readonly mesh: THREE.Mesh;
  private readonly uniforms;
  private cells = '';

  constructor() {
    const rgb = (c: readonly number[]) => ({ value: new THREE.Vector3(c[0]! / 255, c[1]! / 255, c[2]! / 255) });
    this.uniforms = {
      uHeights: { value: null as THREE.DataTexture | null },
      uCoarse: { value: null as THREE.DataTexture | null },
      uMarks: { value: null as THREE.DataTexture | null },
      uCells: { value: [1, 1] },
      uBlocks: { value: [1, 1] },
      uOrigin: { value: new THREE.Vector2() },
      uCell: { value: 1 },
      uBottom: { value: 0 },
      uTop: { value: 0 },
      uRay: { value: new THREE.Vector3(0, 0, -1) },
      uMarked: { value: true },
      uClip: { value: new THREE.Matrix4() },
      uStock: rgb(STOCK_TOP),
      uShallow: rgb(CUT_SHALLOW),
      uDeep: rgb(CUT_DEEP),
      uGouge: rgb(GOUGE),
      uGougeLine: rgb(GOUGE_LINE),
      uUncut: rgb(UNCUT_GROUND),
      uUncutDot: rgb(UNCUT_DOT),
    };
    const material = new THREE.ShaderMaterial({
      glslVersion: THREE.GLSL3,
      vertexShader: VERTEX,
      fragmentShader: FRAGMENT,
      uniforms: this.uniforms,
    });
    this.mesh = new THREE.Mesh(new THREE.BoxGeometry(1, 1, 1), material);
    this.mesh.visible = false;
    this.mesh.frustumCulled = false;
  }

  show(field: FieldNow, top: number): void {
    const { cols, rows, cell, x0, y0, bottom, coarseCols, coarseRows } = field.shape;
    const u = this.uniforms;
    const key = `${cols} ${rows} ${x0} ${y0}`;
    if (key !== this.cells) {
      this.cells = key;
      for (const t of [u.uHeights.value, u.uCoarse.value, u.uMarks.value]) t?.dispose();
      u.uHeights.value = texture(cols, rows, THREE.FloatType);
      u.uCoarse.value = texture(coarseCols, coarseRows, THREE.FloatType);
      u.uMarks.value = texture(cols, rows, THREE.UnsignedByteType);
    }
    fill(u.uHeights.value!, field.heights);
    fill(u.uCoarse.value!, field.coarse);
    fill(u.uMarks.value!, field.marks);
    u.uCells.value = [cols, rows];
    u.uBlocks.value = [coarseCols, coarseRows];
    u.uOrigin.value.set(x0, y0);
    u.uCell.value = cell;
    u.uBottom.value = bottom;
    u.uTop.value = top;
    this.mesh.scale.set(cols * cell, rows * cell, top - bottom);
    this.mesh.position.set(x0 + (cols * cell) / 2, y0 + (rows * cell) / 2, (top + bottom) / 2);
    this.mesh.updateMatrixWorld();
  }

  aim(camera: THREE.OrthographicCamera, marked: boolean): void {
    camera.getWorldDirection(this.uniforms.uRay.value);
    this.uniforms.uClip.value.multiplyMatrices(camera.projectionMatrix, camera.matrixWorldInverse);
    this.uniforms.uMarked.value = marked;
  }
}

function texture(cols: number, rows: number, type: THREE.TextureDataType): THREE.DataTexture {
  const t = new THREE.DataTexture(null, cols, rows, THREE.RedFormat, type);
  t.minFilter = THREE.NearestFilter;
  t.magFilter = THREE.NearestFilter;
  t.generateMipmaps = false;
  t.unpackAlignment = type === THREE.FloatType ? 4 : 1;
  return t;
}

function fill(t: THREE.DataTexture, data: Float32Array | Uint8Array): void {
  (t.image as { data: unknown }).data = data;
  t.needsUpdate = true;
}
