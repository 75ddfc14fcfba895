import { mostPlanes, type SimplePiece } from '../../worker/protocol.ts'

/** GLSL `isInside(point)` for a convex or round piece, and the uniforms that it reads. */
export interface InsideTest {
  readonly glsl: string
  readonly uniforms: Record<string, { value: unknown }>
}

/** A point on the very surface counts as inside, by this much, mm: surfaces that lie in each other are then drawn. */
const skin = 0.01

export function insideTest({ kind, numbers }: SimplePiece): InsideTest {
  switch (kind) {
    case 'planes':
      return {
        glsl: `
uniform vec4 planes[${mostPlanes}];
uniform int planeCount;
bool isInside(vec3 p) {
  for (int i = 0; i < ${mostPlanes}; i++) {
    if (i >= planeCount) break;
    if (dot(planes[i].xyz, p) > planes[i].w + ${skin}) return false;
  }
  return true;
}`,
        uniforms: { planes: { value: padded(numbers, 4 * mostPlanes) }, planeCount: { value: numbers.length / 4 } },
      }
    case 'straight':
      return {
        glsl: `
uniform float n[8];
bool isInside(vec3 p) {
  vec3 away = p - vec3(n[0], n[1], n[2]);
  vec3 along = vec3(n[3], n[4], n[5]);
  float t = dot(away, along);
  return t > -${skin} && t < n[6] + ${skin} && length(away - t * along) < n[7] + ${skin};
}`,
        uniforms: { n: { value: numbers } },
      }
    case 'arc':
      return {
        glsl: `
uniform float n[12];
bool isInside(vec3 p) {
  vec3 away = p - vec3(n[0], n[1], n[2]);
  vec3 ex = vec3(n[3], n[4], n[5]);
  vec3 ey = vec3(n[6], n[7], n[8]);
  vec3 flat_ = vec3(dot(away, ex), dot(away, ey), dot(away, cross(ex, ey)));
  float turn = atan(flat_.y, flat_.x);
  float r = length(flat_.xy);
  float slack = ${skin} / max(r, 1.0);
  return turn > -slack && turn < n[10] + slack && length(vec2(r - n[9], flat_.z)) < n[11] + ${skin};
}`,
        uniforms: { n: { value: numbers } },
      }
  }
}

function padded(numbers: Float32Array, length: number): Float32Array {
  const all = new Float32Array(length)
  all.set(numbers)
  return all
}
