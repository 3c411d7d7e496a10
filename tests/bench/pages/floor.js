import {address, BUILD, done} from './common.js'

const compiled = WebAssembly.compileStreaming(fetch(address(`${BUILD.runtime}pyodide.asm.wasm`)))
const packed = await fetch(address(BUILD.frozen.file))
const buffer = await new Response(packed.body.pipeThrough(new DecompressionStream('gzip'))).arrayBuffer()
const [, length, count, header] = new Uint32Array(buffer, 0, 4)
const places = new Uint32Array(buffer, 16 + header, count * 2)
const memory = new Uint8Array(new WebAssembly.Memory({initial: length / 65536}).buffer)
let from = 16 + header + count * 8
for (let i = 0; i < places.length; i += 2) {
  memory.set(new Uint8Array(buffer, from, places[i + 1]), places[i])
  from += places[i + 1]
}
await compiled
done({ok: true})
