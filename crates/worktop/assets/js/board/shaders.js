// How a stone looks, in GLSL ES 3.00: a round flat-back seen from above, with its table, eight
// stars, eight kites, sixteen facets at the rim, and its finish. The facet angles are ours, by eye.

const HEAD = `#version 300 es
precision highp float;
precision highp int;
uniform highp sampler2D kinds;      // row 0: colour and finish; row 1: radius mm, mark, size,
uniform vec3 view;                  // device px in a mm; left, top in device px
uniform vec2 board;                 // device px
uniform vec3 light;                 // device px, height above the board
`;

/** Places one quad for each stone. */
export const VERTEX = `${HEAD}
layout(location = 0) in vec4 stone; // x, y mm; turn, radians; kind
layout(location = 1) in uvec2 flags;  // bits and stretch; place number, 0 for none yet
uniform float grow;                 // quad's half side in radii
uniform vec2 shift;                 // of a shadow, radii
out vec2 uv;
flat out vec4 paint;                // colour, finish
flat out vec4 facts;                // radius in device px, mark, size,
flat out vec4 at;                   // turn, light's direction x, y, seed
flat out uint flag;
flat out int place;
float hash(float n) { return fract(sin(n * 12.9898) * 43758.5453); }
void main() {
  vec2 corner = vec2(float(gl_VertexID & 1), float(gl_VertexID >> 1)) * 2.0 - 1.0;
  int kind = int(stone.w + 0.5);
  paint = texelFetch(kinds, ivec2(kind, 0), 0);
  facts = texelFetch(kinds, ivec2(kind, 1), 0);
  float radius = facts.x * view.x;
  vec2 centre = stone.xy * view.x + view.yz;
  vec2 margin = vec2(grow + 1.0 / max(radius, 0.5));
  uv = corner * margin;
  vec2 px = centre + (uv + shift) * radius;
  facts.x = radius;
  vec3 to_light = normalize(vec3(light.xy - centre, light.z));
  at = vec4(stone.z, to_light.xy, hash(float(gl_InstanceID) * 0.37 + 1.0));
  flag = flags.x;
  place = int(flags.y);
  gl_Position = vec4(px / board * vec2(2.0, -2.0) + vec2(-1.0, 1.0), 0.0, 1.0);
}`;

/** A soft shadow under each stone. */
export const SHADOW = `${HEAD}
in vec2 uv;
flat in vec4 facts;
flat in uint flag;
out vec4 colour;
void main() {
  float ghost = (flag & 8u) != 0u ? 0.2 : 1.0;
  colour = vec4(0.0, 0.0, 0.0, 0.42 * ghost * (1.0 - smoothstep(0.82, 1.16, length(uv))));
}`;

const FACETS = `
const float SECTOR = 0.78539816;    // 2 pi / 8
struct Facet { vec2 tilt; float id; float edge; float out_from; };
// Which facet lies here: p in radii, x along the stone's own axis.
Facet facet_at(vec2 p) {
  float angle = atan(p.y, p.x);
  float k = floor(angle / SECTOR + 0.5);
  float a = angle - k * SECTOR;
  float r = length(p);
  vec2 q = vec2(r * cos(a), r * sin(a));
  float side = q.y < 0.0 ? -1.0 : 1.0;
  float v = abs(q.y);
  float table = 0.54 - q.x;
  float star = (q.x - 0.54) - 0.2 * (1.0 - v / 0.2237);
  float kite = (v * (0.924 - 0.74) - (q.x - 0.74) * 0.383) / 0.425;
  float edge = min(min(abs(table), abs(star) * 0.75), abs(kite));
  if (table > 0.0) return Facet(vec2(0.0), 0.0, abs(table), q.x);
  if (star < 0.0) {
    float t = k * SECTOR;
    return Facet(vec2(cos(t), sin(t)) * 0.34, 1.0 + k, edge, q.x);
  }
  if (kite > 0.0) {
    float t = (k + side * 0.5) * SECTOR;
    return Facet(vec2(cos(t), sin(t)) * 0.5, 20.0 + k * 2.0 + side, edge, q.x);
  }
  float t = (k + side * 0.27) * SECTOR;
  return Facet(vec2(cos(t), sin(t)) * 0.72, 50.0 + k * 2.0 + side, edge, q.x);
}
float hash(float n) { return fract(sin(n * 12.9898) * 43758.5453); }
vec3 spectrum(float t) { return 0.5 + 0.5 * cos(6.2831853 * (t + vec3(0.0, 0.33, 0.67))); }
mat2 turned(float a) { return mat2(cos(a), -sin(a), sin(a), cos(a)); }
`;

const FINISHES = `
// Colour and opacity of a stone here. l: towards the light, across the board.
vec4 cut_stone(vec2 p, vec2 l, vec3 base, int finish, float seed, float px) {
  Facet f = facet_at(p);
  float r = length(p);
  vec3 n = normalize(vec3(f.tilt, 1.0));
  vec3 to = vec3(l, sqrt(max(0.05, 1.0 - dot(l, l))));
  vec3 half_way = normalize(to + vec3(0.0, 0.0, 1.0));
  float facing = dot(n, to);
  // The foil throws light back through the table: spokes that change as the light moves.
  float spoke = floor(atan(p.y, p.x) / (SECTOR * 0.5) + 0.5);
  float ring = step(0.27, f.out_from);
  float depth = hash(spoke * 1.7 + ring * 9.1 + f.id * 0.31);
  float fire = 0.5 + 0.5 * sin(depth * 6.28 + dot(l, vec2(cos(spoke * SECTOR * 0.5), sin(spoke * SECTOR * 0.5))) * 7.0 + seed * 2.0);
  float inner = f.id == 0.0 ? fire : 0.45 * fire + 0.55 * smoothstep(0.1, 1.0, facing);
  float glint = pow(max(0.0, dot(n, half_way)), f.id == 0.0 ? 160.0 : 60.0)
              + 0.9 * pow(max(0.0, fire), 14.0) * smoothstep(0.35, 0.95, facing);
  float line = 1.0 - smoothstep(0.0, max(0.025, 1.3 / px), f.edge);
  vec3 c;
  float a = 1.0;
  if (finish == 3) {
    float band = smoothstep(0.0, 1.1, facing + 0.16 * fire);
    c = base * (0.36 + 1.0 * band) + vec3(0.75) * glint * mix(vec3(1.0), base, 0.35);
  } else if (finish == 2) {
    c = mix(base, vec3(1.0), 0.45) * (0.8 + 0.45 * inner) + vec3(glint * 1.1);
    a = clamp(0.34 + 0.4 * inner * r + glint + line * 0.2, 0.0, 1.0);
  } else {
    c = base * (0.42 + 0.95 * inner) + mix(vec3(1.0), base, 0.3) * glint * 1.05;
    c += base * base * 0.25 * fire;
    if (finish == 1) {
      vec3 film = spectrum(dot(f.tilt, l) * 1.1 + r * 0.45 + seed * 0.25 + depth * 0.18);
      c = mix(c, c * 0.45 + film * (0.35 + 0.5 * inner), 0.48);
    }
  }
  c = mix(c, c * 1.28 + 0.05, line * 0.55);
  return vec4(c, a);
}
vec4 pearl(vec2 p, vec2 l, vec3 base) {
  float r2 = min(dot(p, p), 1.0);
  vec3 n = vec3(p * 0.92, sqrt(1.0 - r2 * 0.8464));
  vec3 to = normalize(vec3(l, sqrt(max(0.05, 1.0 - dot(l, l)))));
  float lit = 0.5 + 0.5 * dot(n, to);
  float sheen = pow(max(0.0, dot(n, normalize(to + vec3(0.0, 0.0, 1.0)))), 26.0);
  vec3 film = spectrum(r2 * 0.55 + dot(p, l) * 0.4 + 0.1) - 0.5;
  return vec4(base * (0.5 + 0.58 * lit) + film * 0.09 + vec3(sheen * 0.55), 1.0);
}
`;

const LABELS = `
uniform sampler2D letters;          // red: the sign, green: its edge
uniform vec3 cells;                 // columns, rows, px of a cell
uniform uint labels;                // 1 mark, 2 place number, 4 size
vec2 letter(float cell, vec2 within, float px) {
  vec2 grid = vec2(mod(cell, cells.x), floor(cell / cells.x));
  return textureLod(letters, (grid + within) / cells.xy, log2(max(1.0, cells.z / px))).rg;
}
// One line of the label: q from -0.5 to 0.5 in both, in a box so many times as wide as high.
vec2 label_line(uint what, vec2 q, float wide, float px) {
  if (what == 2u) {
    int digits = place > 99999 ? 6 : place > 9999 ? 5 : place > 999 ? 4 : place > 99 ? 3 : place > 9 ? 2 : 1;
    float high = min(1.0, wide / (0.56 * float(digits)));
    vec2 s = vec2(q.x * wide, q.y) / high;
    float column = floor(s.x / 0.56 + float(digits) * 0.5);
    if (column < 0.0 || column >= float(digits) || abs(s.y) > 0.5) return vec2(0.0);
    int n = place;
    for (int i = digits - 1; i > int(column); i--) n /= 10;
    float x = s.x / 0.56 + float(digits) * 0.5 - column;
    return letter(float(n % 10), vec2(0.5 + (x - 0.5) * 0.56, s.y + 0.5), px * high);
  }
  float x = q.x * wide;
  if (abs(x) > 0.5 || abs(q.y) > 0.5) return vec2(0.0);
  return letter(what == 1u ? facts.y : facts.z, vec2(x, q.y) + 0.5, px);
}
vec2 label_at(vec2 p) {
  float n = float((labels & 1u) + ((labels >> 1) & 1u) + ((labels >> 2) & 1u));
  bool placed = place > 0;
  float high = n > 1.5 ? 1.3 / n : 0.95;
  float line = floor((p.y + high * n * 0.5) / high);
  if (line < 0.0 || line >= n) return vec2(0.0);
  uint what = 0u;
  float seen = 0.0;
  for (uint bit = 1u; bit < 8u; bit <<= 1) {
    if ((labels & bit) == 0u) continue;
    if (seen == line) what = bit;
    seen += 1.0;
  }
  if (what == 2u && !placed) return vec2(0.0);
  float y = p.y - (line - n * 0.5 + 0.5) * high;
  return label_line(what, vec2(p.x / 1.5, y / high), 1.5 / high, high * facts.x);
}
`;

/** The stone itself, its rings and what is written on it. */
export const FRAGMENT = `${HEAD}
in vec2 uv;
flat in vec4 paint;
flat in vec4 facts;
flat in vec4 at;
flat in uint flag;
flat in int place;
uniform int last_place;
uniform int tint;                   // 0 own colour, 1 bench order, 2 stretches
uniform vec3 accent;
uniform vec3 accent_ink;
uniform vec3 warn;
out vec4 colour;
${FACETS}${FINISHES}${LABELS}
// From deep blue through teal and amber to pale: grows lighter all the way, so it reads in grey.
vec3 ramp(float t) {
  vec3 a = mix(vec3(0.10, 0.12, 0.40), vec3(0.05, 0.45, 0.55), smoothstep(0.0, 0.33, t));
  vec3 b = mix(a, vec3(0.55, 0.70, 0.30), smoothstep(0.33, 0.66, t));
  return mix(b, vec3(1.0, 0.90, 0.55), smoothstep(0.66, 1.0, t));
}
vec3 painted() {
  if (tint == 1) return place == 0 ? vec3(0.6) : ramp(float(place - 1) / max(1.0, float(last_place - 1)));
  if (tint == 2) {
    uint number = flag >> 8;
    return number == 0u ? vec3(0.55) : 0.32 + 0.6 * spectrum(float(number) * 0.381966);
  }
  return paint.rgb;
}
void main() {
  float r = length(uv);
  float radius = facts.x;
  float cover = clamp((1.0 - r) * radius + 0.5, 0.0, 1.0);
  if (cover <= 0.0) discard;
  int finish = tint == 0 ? int(paint.a + 0.5) : 0;
  vec3 base = painted();
  mat2 back = turned(-at.x);
  vec2 l = back * at.yz;
  vec4 c;
  float small_glint = step(0.72, fract(at.w * 7.0 + dot(at.yz, vec2(1.9, 1.3))));
  vec4 plain = vec4(base * (0.86 + 0.34 * dot(uv, at.yz)) + small_glint * (tint == 0 ? 0.28 : 0.06), finish == 2 ? 0.62 : 1.0);
  if (radius < 3.0) c = plain;
  else {
    c = finish == 4 ? pearl(uv, at.yz, base) : cut_stone(back * uv, l, base, finish, at.w, radius);
    c = mix(plain, c, smoothstep(3.0, 7.0, radius));
    if (tint != 0) c.rgb = mix(c.rgb, base, 0.5);
  }
  float rim = smoothstep(0.86, 1.0, r);
  float lit = dot(normalize(uv + 1e-5), normalize(at.yz + 1e-5));
  c.rgb = mix(c.rgb, c.rgb * (0.62 + 0.3 * lit) + 0.1 * max(0.0, lit), rim * 0.8);
  c.a = max(c.a, rim * 0.7);
  float lum = dot(base, vec3(0.3, 0.59, 0.11));
  float written = labels == 0u ? 0.0 : smoothstep(6.5, 9.0, radius);
  if (written > 0.0) {
    c.rgb = mix(c.rgb, base * 0.9 + 0.05, 0.72 * written * (1.0 - rim));
    c.a = mix(c.a, 1.0, written);
    vec2 sign = label_at(uv) * written;
    vec3 ink = lum > 0.45 ? vec3(0.04) : vec3(1.0);
    c.rgb = mix(c.rgb, 1.0 - ink, sign.g * 0.55);
    c.rgb = mix(c.rgb, ink, sign.r);
  }
  float ring_in = 1.0 - max(0.16, 2.2 / radius);
  float halo_in = ring_in - max(0.06, 1.0 / radius);
  bool waits = (flag & 4u) != 0u;
  if ((flag & 17u) != 0u) {
    c = mix(c, vec4(accent_ink, 1.0), step(halo_in, r));
    c = mix(c, vec4(accent, 1.0), step(ring_in, r));
  } else if (waits) {
    float dash = step(0.5, fract(atan(uv.y, uv.x) * 1.2732));
    c = mix(c, vec4(mix(vec3(1.0), warn, dash), 1.0), step(ring_in, r));
  }
  if ((flag & 2u) != 0u && radius > 4.0) {
    float head = length(uv - vec2(0.0, -0.7)) * radius;
    float size = clamp(radius * 0.2, 2.0, 7.0);
    c = mix(c, vec4(accent_ink, 1.0), clamp(size + 1.5 - head, 0.0, 1.0));
    c = mix(c, vec4(accent, 1.0), clamp(size + 0.5 - head, 0.0, 1.0));
  }
  float a = clamp(c.a, 0.0, 1.0) * cover * ((flag & 8u) != 0u ? 0.16 : 1.0);
  colour = vec4(clamp(c.rgb, 0.0, 1.0) * a, a);
}`;

/** The line from a stone to the next of its row; it leaves out the stones' middles. */
export const ROW_VERTEX = `${HEAD}
layout(location = 0) in vec4 stone;
layout(location = 1) in uvec2 flags;
layout(location = 2) in vec4 next;
uniform float half_width;           // device px, its pale edge included
out float across;
void main() {
  vec2 from = stone.xy * view.x + view.yz;
  vec2 to = next.xy * view.x + view.yz;
  float apart = max(length(to - from), 1e-4);
  vec2 along = (to - from) / apart;
  float left_out = 0.6 * view.x;
  float start = min(apart * 0.5, left_out * texelFetch(kinds, ivec2(int(stone.w + 0.5), 1), 0).x);
  float end = max(apart * 0.5, apart - left_out * texelFetch(kinds, ivec2(int(next.w + 0.5), 1), 0).x);
  across = float(gl_VertexID & 1) * 2.0 - 1.0;
  float reach = (gl_VertexID >> 1) == 0 ? start : end;
  vec2 px = from + along * reach + vec2(-along.y, along.x) * across * half_width;
  bool joins = (flags.x & 32u) != 0u;
  gl_Position = joins ? vec4(px / board * vec2(2.0, -2.0) + vec2(-1.0, 1.0), 0.0, 1.0) : vec4(2.0, 2.0, 2.0, 1.0);
}`;

export const ROW_FRAGMENT = `#version 300 es
precision highp float;
in float across;
uniform float half_width;
uniform vec3 ink;
uniform vec3 surface;
out vec4 colour;
void main() {
  float px = abs(across) * half_width;
  float line = clamp(half_width * 0.45 - px + 0.5, 0.0, 1.0);
  float cover = clamp(half_width - px, 0.0, 1.0);
  colour = vec4(mix(surface, ink, line) * cover, cover);
}`;
