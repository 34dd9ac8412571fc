// Draws all stones in instanced calls of WebGL2: shadows, stones, the lines of rows. Holds nothing that
// cannot be sent again, so a lost context is made good by a new painter.
/** @import { BoardKind, LaidOver, Stones } from '../types.d.ts' */
/** @import { Program, Rgb } from './gl.js' */
import { filter, program, rgbOf } from './gl.js';
import { drawLetters, markCell, sizeCell } from './letters.js';
import { FRAGMENT, ROW_FRAGMENT, ROW_VERTEX, SHADOW, VERTEX } from './shaders.js';

const UNIFORMS = /** @type {const} */ ([
  'kinds', 'view', 'board', 'light', 'grow', 'shift', 'letters', 'cells', 'labels',
  'last_place', 'tint', 'accent', 'accent_ink', 'warn', 'half_width',
  'ink', 'surface',
]);

/** Stones smaller than this, radius in device px, cast no shadow. */
const SHADOW_FROM_PX = 4;

const FINISH = { foiled: 0, rainbow: 1, clear: 2, metallic: 3, pearl: 4 };

/**
 * @typedef {object} Scene what one frame needs beside the stones
 * @property {number} scale device px in a mm
 * @property {number} ratio device px in a CSS px
 * @property {number} left device px
 * @property {number} top device px
 * @property {{ x: number, y: number, height: number }} light device px
 * @property {LaidOver} laid_over
 * @property {{ accent: Rgb, accent_ink: Rgb, warn: Rgb, ink: Rgb, surface: Rgb }} inks
 */

/** One WebGL2 context and what is in it. */
export class StonePainter {
  #gl;
  #stone;
  #shadow;
  #row;
  #places;
  #flags;
  #kinds;
  #letters;
  #cells = /** @type {Rgb} */ ([1, 1, 1]);
  #n = 0;
  #last_place = 0;
  #largest_mm = 0;

  /**
   * @param {WebGL2RenderingContext} gl
   * @throws {Error} when the shaders do not compile on this device
   */
  constructor(gl) {
    this.#gl = gl;
    this.#stone = program(gl, VERTEX, FRAGMENT, UNIFORMS);
    this.#shadow = program(gl, VERTEX, SHADOW, UNIFORMS);
    this.#row = program(gl, ROW_VERTEX, ROW_FRAGMENT, UNIFORMS);
    this.#places = gl.createBuffer();
    this.#flags = gl.createBuffer();
    this.#kinds = gl.createTexture();
    this.#letters = gl.createTexture();
    gl.bindBuffer(gl.ARRAY_BUFFER, this.#places);
    gl.enableVertexAttribArray(0);
    gl.vertexAttribPointer(0, 4, gl.FLOAT, false, 16, 0);
    gl.vertexAttribDivisor(0, 1);
    // The same places again, one stone on: a row's line goes from each stone to the next.
    gl.enableVertexAttribArray(2);
    gl.vertexAttribPointer(2, 4, gl.FLOAT, false, 16, 16);
    gl.vertexAttribDivisor(2, 1);
    gl.bindBuffer(gl.ARRAY_BUFFER, this.#flags);
    gl.enableVertexAttribArray(1);
    gl.vertexAttribIPointer(1, 2, gl.UNSIGNED_INT, 8, 0);
    gl.vertexAttribDivisor(1, 1);
    gl.disable(gl.DEPTH_TEST);
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    gl.clearColor(0, 0, 0, 0);
  }

  /** @param {readonly BoardKind[]} kinds */
  setKinds(kinds) {
    const gl = this.#gl;
    const wide = Math.max(1, kinds.length);
    const texels = new Float32Array(wide * 8);
    kinds.forEach((kind, k) => {
      texels.set([...rgbOf(kind.colour), FINISH[kind.finish] ?? 0], k * 4);
      texels.set([kind.drawn_mm / 2, markCell(k), sizeCell(k), 0], (wide + k) * 4);
    });
    this.#largest_mm = Math.max(0, ...kinds.map((k) => k.drawn_mm));
    gl.bindTexture(gl.TEXTURE_2D, this.#kinds);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, wide, 2, 0, gl.RGBA, gl.FLOAT, texels);
    filter(gl, gl.NEAREST, gl.NEAREST);
    const { picture, columns, rows, cell_px } = drawLetters(kinds);
    gl.bindTexture(gl.TEXTURE_2D, this.#letters);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA, gl.RGBA, gl.UNSIGNED_BYTE, picture);
    gl.generateMipmap(gl.TEXTURE_2D);
    filter(gl, gl.LINEAR_MIPMAP_LINEAR, gl.LINEAR);
    this.#cells = [columns, rows, cell_px];
  }

  /** @param {Stones} stones */
  setStones(stones) {
    const gl = this.#gl;
    const rows = new Float32Array(stones.n * 4);
    let last_place = 0;
    for (let i = 0; i < stones.n; i++) {
      rows[4 * i] = stones.x[i] ?? 0;
      rows[4 * i + 1] = stones.y[i] ?? 0;
      rows[4 * i + 2] = ((stones.turn_deg[i] ?? 0) * Math.PI) / 180;
      rows[4 * i + 3] = stones.kind[i] ?? 0;
      last_place = Math.max(last_place, stones.place[i] ?? 0);
    }
    this.#n = stones.n;
    this.#last_place = last_place;
    gl.bindBuffer(gl.ARRAY_BUFFER, this.#places);
    gl.bufferData(gl.ARRAY_BUFFER, rows, gl.DYNAMIC_DRAW);
  }

  /** @param {Uint32Array} flags two for each stone, of `Marks` */
  setFlags(flags) {
    const gl = this.#gl;
    gl.bindBuffer(gl.ARRAY_BUFFER, this.#flags);
    gl.bufferData(gl.ARRAY_BUFFER, flags, gl.DYNAMIC_DRAW);
  }

  /**
   * Show one stone elsewhere: while it is carried.
   * @param {number} stone
   * @param {number} x mm
   * @param {number} y mm
   */
  moveStone(stone, x, y) {
    const gl = this.#gl;
    gl.bindBuffer(gl.ARRAY_BUFFER, this.#places);
    gl.bufferSubData(gl.ARRAY_BUFFER, stone * 16, new Float32Array([x, y]));
  }

  /** @param {Scene} scene */
  draw(scene) {
    const gl = this.#gl;
    gl.viewport(0, 0, gl.drawingBufferWidth, gl.drawingBufferHeight);
    gl.clear(gl.COLOR_BUFFER_BIT);
    if (this.#n === 0) return;
    gl.activeTexture(gl.TEXTURE1);
    gl.bindTexture(gl.TEXTURE_2D, this.#letters);
    gl.activeTexture(gl.TEXTURE0);
    gl.bindTexture(gl.TEXTURE_2D, this.#kinds);
    if ((this.#largest_mm / 2) * scene.scale >= SHADOW_FROM_PX) {
      this.#use(this.#shadow, scene);
      const { uniforms } = this.#shadow;
      gl.uniform1f(uniforms.grow, 1.18);
      gl.uniform2f(uniforms.shift, 0.05, 0.13);
      gl.drawArraysInstanced(gl.TRIANGLE_STRIP, 0, 4, this.#n);
    }
    this.#use(this.#stone, scene);
    const { uniforms } = this.#stone;
    const on = scene.laid_over;
    gl.uniform1f(uniforms.grow, 1);
    gl.uniform2f(uniforms.shift, 0, 0);
    gl.uniform1i(uniforms.letters, 1);
    gl.uniform3f(uniforms.cells, ...this.#cells);
    gl.uniform1ui(uniforms.labels, (on.marks ? 1 : 0) | (on.numbers ? 2 : 0) | (on.sizes ? 4 : 0));
    gl.uniform1i(uniforms.last_place, this.#last_place);
    gl.uniform1i(uniforms.tint, on.stretches ? 2 : on.order ? 1 : 0);
    gl.uniform3f(uniforms.accent, ...scene.inks.accent);
    gl.uniform3f(uniforms.accent_ink, ...scene.inks.accent_ink);
    gl.uniform3f(uniforms.warn, ...scene.inks.warn);
    gl.drawArraysInstanced(gl.TRIANGLE_STRIP, 0, 4, this.#n);
    if (on.rows && this.#n > 1) this.#drawRows(scene);
  }

  /** @param {Scene} scene */
  #drawRows(scene) {
    const gl = this.#gl;
    const { uniforms } = this.#row;
    this.#use(this.#row, scene);
    gl.uniform1f(uniforms.half_width, Math.max(1.1, 1.75 * scene.ratio * Math.min(1, scene.scale / scene.ratio / 4)));
    gl.uniform3f(uniforms.ink, ...scene.inks.ink);
    gl.uniform3f(uniforms.surface, ...scene.inks.surface);
    gl.drawArraysInstanced(gl.TRIANGLE_STRIP, 0, 4, this.#n - 1);
  }

  /**
   * @param {Program<typeof UNIFORMS[number]>} p
   * @param {Scene} scene
   */
  #use(p, scene) {
    const gl = this.#gl;
    const { light } = scene;
    gl.useProgram(p.program);
    gl.uniform1i(p.uniforms.kinds, 0);
    gl.uniform3f(p.uniforms.view, scene.scale, scene.left, scene.top);
    gl.uniform2f(p.uniforms.board, gl.drawingBufferWidth, gl.drawingBufferHeight);
    gl.uniform3f(p.uniforms.light, light.x, light.y, light.height);
  }
}
