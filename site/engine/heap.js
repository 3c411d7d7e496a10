// What the build packed itself (Zstandard): the frozen heap, and the rest of the runtime.
import {BUILD} from './built.js'
import {brokeOff, StartError} from './fetched.js'

/** @import {Fetched} from './fetched.js' */
/**
 * As much of the unpacker as is used here.
 * @typedef {object} Zstandard
 * @property {WebAssembly.Memory} memory
 * @property {(bytes: number) => number} malloc
 * @property {(from: number, packed: number) => bigint} ZSTD_findDecompressedSize
 * @property {(to: number, size: number, from: number, packed: number) => number} ZSTD_decompress
 */

const UNPACKER = `${BUILD.runtime}zstd.speed.wasm`
const IMPORTS = {env: {emscripten_notify_memory_growth() {}}}

/**
 * Gives what fetches files and unpacks them. Each is unpacked in a memory of its own, which goes with its bytes.
 * @param {Fetched} fetched
 * @returns {(file: string) => Promise<Uint8Array<ArrayBuffer>>}
 */
export function unpacking(fetched) {
  const unpacker = fetched
    .open(UNPACKER)
    .then((response) => WebAssembly.compileStreaming(response))
    .catch(brokeOff(UNPACKER))
  unpacker.catch(fetched.fail)
  return async (file) => {
    const packed = fetched
      .open(file)
      .then((response) => response.arrayBuffer())
      .catch(brokeOff(file))
    const [bytes, module] = await Promise.all([packed, unpacker])
    const {exports} = await WebAssembly.instantiate(module, IMPORTS)
    return unpack(file, new Uint8Array(bytes), /** @type {Zstandard} */ (/** @type {unknown} */ (exports)))
  }
}

/**
 * @param {string} file
 * @param {Uint8Array} packed
 * @param {Zstandard} by
 */
function unpack(file, packed, {memory, malloc, ZSTD_findDecompressedSize, ZSTD_decompress}) {
  const from = malloc(packed.length)
  new Uint8Array(memory.buffer).set(packed, from)
  const size = Number(ZSTD_findDecompressedSize(from, packed.length)) // below 0 when it is none of its files
  const to = size > 0 ? malloc(size) : 0
  if (!from || !to || ZSTD_decompress(to, size, from, packed.length) !== size)
    throw new StartError('start', `${file} could not be unpacked`)
  return new Uint8Array(memory.buffer, to, size)
}

/**
 * Read a frozen heap: sizes, Pyodide's header, the places of the runs, the runs. See py/build_page/frozen/freeze.py.
 * `write` gives it away: Pyodide keeps for good what it was started with.
 * @param {Uint8Array<ArrayBuffer>} heap
 */
export function readHeap({buffer, byteOffset: at}) {
  const [magic, length, count, headerBytes] = new Uint32Array(buffer, at, 4)
  if (magic !== BUILD.frozen.magic) throw new StartError('start', 'The frozen heap is of another build')
  const header = new Uint8Array(buffer.slice(at + 16, at + 16 + headerBytes))
  /** @type {ArrayBuffer | undefined} */
  let held = buffer
  const write = (/** @type {Uint8Array} */ memory) => {
    if (!held) throw new StartError('start', 'The frozen heap was given away before')
    const places = new Uint32Array(held, at + 16 + headerBytes, count * 2)
    let from = at + 16 + headerBytes + count * 8
    for (let i = 0; i < places.length; i += 2) {
      memory.set(new Uint8Array(held, from, places[i + 1]), places[i])
      from += places[i + 1]
    }
    held = undefined
  }
  return {header, length, write}
}

/**
 * The whole runtime: the lean one with the rest put back. See py/build_page/frozen/lean.py.
 * @param {ArrayBuffer} lean
 * @param {Uint8Array<ArrayBuffer>} rest
 */
export function putTogether(lean, {buffer, byteOffset: at}) {
  const [length, count] = new Uint32Array(buffer, at, 2)
  const edits = new Uint32Array(buffer, at + 8, count * 3)
  const whole = new Uint8Array(length)
  let [from, next, to] = [0, at + 8 + count * 12, 0]
  const put = (/** @type {Uint8Array} */ bytes) => {
    whole.set(bytes, to)
    to += bytes.length
  }
  for (let i = 0; i < edits.length; i += 3) {
    const [keep, drop, add] = edits.subarray(i, i + 3)
    put(new Uint8Array(lean, from, keep))
    put(new Uint8Array(buffer, next, add))
    from += keep + drop
    next += add
  }
  return whole
}
