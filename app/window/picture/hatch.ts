import type { Hatch } from './protocol.ts'

/** The numbers are those of the shader below. */
const hatchNumber: Record<Hatch, number> = {
  plain: 0,
  body: 1,
  service: 2,
  safety: 3,
  lamp: 4,
  cooling: 5,
  moving: 6,
  hot: 7,
  core: 8,
  overlap: 9,
}

/** Parallel lines: the picture has no perspective, so one eye direction and one scale hold for all of it. */
export const surfaceVertex = /* glsl */ `
varying vec3 vAt;
varying vec3 vNormal;
#include <clipping_planes_pars_vertex>
void main() {
  vAt = position;
  vNormal = mat3(modelMatrix) * normal;
  // In this order, as the library's own materials do it: depths must come out the same to the last bit. Solids at their
  // drawn places have the identity as their matrix, which changes no bit.
  vec4 mvPosition = viewMatrix * (modelMatrix * vec4(position, 1.0));
  gl_Position = projectionMatrix * mvPosition;
  #include <clipping_planes_vertex>
}`

/** The cut face is one large square that is turned and moved: hatches go by where it lies. */
export const sectionVertex = /* glsl */ `
varying vec3 vAt;
varying vec3 vNormal;
void main() {
  vec4 at = modelMatrix * vec4(position, 1.0);
  vAt = at.xyz;
  vNormal = mat3(modelMatrix) * normal;
  gl_Position = projectionMatrix * (viewMatrix * at);
}`

/**
 * Hatch lines are where the surface meets families of parallel planes: they lie on the solid, need no texture
 * coordinates, run through without seams, and keep one width in pixels. Their distance follows the scale of the picture
 * in steps of two.
 */
export const hatchShader = (hatch: Hatch): string => /* glsl */ `
#define HATCH ${hatchNumber[hatch]}
uniform float pixel; // mm of the bay in one pixel
float lines(float along, float period, float pixels) {
  float x = along / period;
  float wide = pixel / period;
  // How far apart two neighbouring pixels are along this family; faces nearly in the family's own plane get no lines.
  float step = max(fwidth(x), 1e-6);
  float from = abs(fract(x) - 0.5);
  float line = 1.0 - smoothstep(0.5 * pixels * step, (0.5 * pixels + 1.0) * step, from);
  return line * (1.0 - smoothstep(0.25, 0.5, step)) * smoothstep(0.05 * wide, 0.3 * wide, step);
}
float hatchAt(vec3 at, vec3 normal) {
  float fine = exp2(floor(log2(pixel * 9.0) + 0.5));
  vec3 n = abs(normal);
  vec3 rising = vec3(0.57, 0.55, 0.61);
  vec3 falling = rising * (n.x > n.y && n.x > n.z ? vec3(1, -1, 1) : vec3(-1, 1, 1));
  float up = dot(at, rising);
  float down = dot(at, falling);
  float flat_ = n.z > 0.85 ? at.y : at.z;
  float upright = n.y > 0.85 ? at.x : at.y;
#if HATCH == 1
  return lines(up, fine, 1.0);
#elif HATCH == 2
  return lines(upright, fine, 1.0);
#elif HATCH == 3
  return max(lines(up, fine, 1.0), lines(up + 0.28 * fine, fine, 1.0));
#elif HATCH == 4
  return min(lines(up, fine * 0.6, 1.8), lines(down, fine * 0.6, 1.8));
#elif HATCH == 5
  return lines(flat_, fine * 0.7, 1.0);
#elif HATCH == 6
  return lines(up, fine, 1.0) * step(0.45, fract(down / (fine * 1.6)));
#elif HATCH == 7
  return max(lines(up, fine, 1.0), lines(down, fine, 1.0));
#elif HATCH == 8
  return lines(at.z, fine * 0.7, 1.0);
#elif HATCH == 9
  return max(lines(up, fine * 1.5, 1.2), lines(down, fine * 1.5, 1.2));
#else
  return 0.0;
#endif
}`

/** Fill, hatch, and a hairline where a smooth surface turns away from the eye (creases are drawn as lines). */
export const surfaceFragment = (hatch: Hatch, inside = ''): string => /* glsl */ `
precision highp float;
varying vec3 vAt;
varying vec3 vNormal;
uniform vec3 fill;
uniform vec3 ink;
uniform float fillOpacity;
uniform float hatchOpacity;
uniform float rimOpacity;
uniform float body;
uniform vec3 eye;
#include <clipping_planes_pars_fragment>
${hatchShader(hatch)}
${inside}
void main() {
  #include <clipping_planes_fragment>
  ${inside === '' ? '' : 'if (!isInside(vAt)) discard;'}
  vec3 normal = normalize(vNormal) * (gl_FrontFacing ? 1.0 : -1.0);
  float facing = dot(normal, eye);
  float turn = fwidth(facing);
  float rim = turn > 1e-3 ? 1.0 - smoothstep(0.9 * turn, 1.9 * turn, abs(facing)) : 0.0;
  float drawn = max(hatchAt(vAt, normal) * hatchOpacity * mix(0.5, 1.0, body), rim * rimOpacity);
  float light = 0.93 + 0.07 * dot(normal, normalize(eye + vec3(0.2, -0.3, 0.7)));
  gl_FragColor = vec4(mix(fill * light, ink, drawn), max(fillOpacity * body, drawn));
}`
