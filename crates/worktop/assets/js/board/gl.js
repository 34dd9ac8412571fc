// What any drawing by WebGL2 needs: programs of two shaders, filters of textures, colours as numbers.

/** @typedef {readonly [number, number, number]} Rgb from 0 to 1 */

/**
 * @param {string} colour `#rgb` or `#rrggbb`; anything else is grey
 * @returns {Rgb}
 */
export function rgbOf(colour) {
  const short = /^#([\da-f])([\da-f])([\da-f])$/i.exec(colour);
  const hex = short ? short.slice(1).map((d) => d + d).join('') : /^#([\da-f]{6})/i.exec(colour)?.[1];
  if (!hex) return [0.5, 0.5, 0.5];
  const n = Number.parseInt(hex, 16);
  return [(n >> 16) / 255, ((n >> 8) & 255) / 255, (n & 255) / 255];
}

/**
 * @template {string} Name
 * @typedef {{ program: WebGLProgram, uniforms: Record<Name, WebGLUniformLocation | null> }} Program
 */

/**
 * A program of two shaders, and where its uniforms are; one that it has not is `null`.
 * @template {string} Name
 * @param {WebGL2RenderingContext} gl
 * @param {string} vertex
 * @param {string} fragment
 * @param {readonly Name[]} names
 * @returns {Program<Name>}
 * @throws {Error} when the shaders do not compile on this device
 */
export function program(gl, vertex, fragment, names) {
  const made = gl.createProgram();
  for (const [type, text] of /** @type {const} */ ([[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]])) {
    const shader = gl.createShader(type);
    if (!shader) throw new Error('the graphics context is lost');
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    gl.attachShader(made, shader);
    if (!gl.getShaderParameter(shader, gl.COMPILE_STATUS) && !gl.isContextLost()) {
      throw new Error(gl.getShaderInfoLog(shader) ?? 'a shader does not compile');
    }
  }
  gl.linkProgram(made);
  if (!gl.getProgramParameter(made, gl.LINK_STATUS) && !gl.isContextLost()) {
    throw new Error(gl.getProgramInfoLog(made) ?? 'the shaders do not link');
  }
  const uniforms = /** @type {Record<Name, WebGLUniformLocation | null>} */ ({});
  for (const name of names) uniforms[name] = gl.getUniformLocation(made, name);
  return { program: made, uniforms };
}

/**
 * How the bound texture is made smaller and larger; it is not repeated.
 * @param {WebGL2RenderingContext} gl
 * @param {number} min
 * @param {number} mag
 */
export function filter(gl, min, mag) {
  gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MIN_FILTER, min);
  gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MAG_FILTER, mag);
  gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_WRAP_S, gl.CLAMP_TO_EDGE);
  gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_WRAP_T, gl.CLAMP_TO_EDGE);
}
