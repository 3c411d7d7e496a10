import {address, BUILD, done, Fetched, readHeap, unpacking} from './common.js'

const compiled = WebAssembly.compileStreaming(fetch(address(`${BUILD.runtime}pyodide.asm.wasm`)))
const {length, write} = readHeap(await unpacking(new Fetched(() => {}, false))(BUILD.frozen.file))
write(new Uint8Array(new WebAssembly.Memory({initial: length / 65536}).buffer))
await compiled
done({ok: true})
