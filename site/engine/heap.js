// The frozen heap, as bytes on the wire and as what is written into the memory.
import {BUILD} from './built.js'
import {StartError} from './fetched.js'

/** The bytes of a frozen heap; a server that unpacks gzip on its own does no harm. @param {Response} response */
export async function unpack(response) {
  if (!response.body) throw new StartError('network', 'The frozen heap came without bytes')
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
