// What the build packed itself, as bytes on the wire: the frozen heap, and the rest of the runtime.
import {BUILD} from './built.js'
import {StartError} from './fetched.js'

/** The bytes of what is packed; a server that unpacks gzip on its own does no harm. @param {Response} response */
export async function unpack(response) {
  if (!response.body) throw new StartError('network', 'A file came without bytes')
  const [head, body] = response.body.tee()
  const reader = head.getReader()
  const {value} = await reader.read()
  reader.cancel()
  const packed = value?.[0] === 0x1f && value[1] === 0x8b
  const plain = packed ? body.pipeThrough(new DecompressionStream('gzip')) : body
  return new Response(plain).arrayBuffer()
}

/**
 * Read a frozen heap: sizes, Pyodide's header, the places of the runs, the runs. See py/build_page/frozen/freeze.py.
 * @param {ArrayBuffer} buffer
 */
export function readHeap(buffer) {
  const [magic, length, count, headerBytes] = new Uint32Array(buffer, 0, 4)
  if (magic !== BUILD.frozen.magic) throw new StartError('start', 'The frozen heap is of another build')
  const header = new Uint8Array(buffer.slice(16, 16 + headerBytes))
  const places = new Uint32Array(buffer, 16 + headerBytes, count * 2)
  const write = (/** @type {Uint8Array} */ memory) => {
    let from = 16 + headerBytes + count * 8
    for (let i = 0; i < places.length; i += 2) {
      memory.set(new Uint8Array(buffer, from, places[i + 1]), places[i])
      from += places[i + 1]
    }
  }
  return {header, length, write}
}

/**
 * The whole runtime: the lean one with the rest put back. See py/build_page/frozen/lean.py.
 * @param {ArrayBuffer} lean
 * @param {ArrayBuffer} rest
 */
export function putTogether(lean, rest) {
  const [length, count] = new Uint32Array(rest, 0, 2)
  const edits = new Uint32Array(rest, 8, count * 3)
  const whole = new Uint8Array(length)
  let [from, next, to] = [0, 8 + count * 12, 0]
  const put = (/** @type {Uint8Array} */ bytes) => {
    whole.set(bytes, to)
    to += bytes.length
  }
  for (let i = 0; i < edits.length; i += 3) {
    const [keep, drop, add] = edits.subarray(i, i + 3)
    put(new Uint8Array(lean, from, keep))
    put(new Uint8Array(rest, next, add))
    from += keep + drop
    next += add
  }
  return whole
}
