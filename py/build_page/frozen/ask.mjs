// node ask.mjs RUNTIME FROZEN SETTINGS.json REQUESTS OUT: restore the frozen core in Node as the page does, and ask it.
//
// REQUESTS has a JSON string in each line, OUT gets the answer to each. A request that ends the engine is answered by null, and
// a new engine goes on. Where the runtime counts (count.mjs), OUT.called gets a byte for each function: 1 when it was called.
import {readFileSync, writeFileSync} from 'node:fs'
import {join} from 'node:path'
import {zstdDecompressSync} from 'node:zlib'

const [runtime, frozen, settingsFile, requests, out] = process.argv.slice(2)
const settings = JSON.parse(readFileSync(settingsFile, 'utf8'))
const called = new Uint8Array(1 << 16)
const instantiate = WebAssembly.instantiate
WebAssembly.instantiate = (module, imports) =>
  instantiate(module, {
    ...imports,
    lean: {
      called(function_) {
        called[function_] = 1
      },
    },
  })
const {loadPyodide} = await import(join(runtime, 'pyodide.mjs'))
const {default: createModule} = await import(join(runtime, 'pyodide.asm.mjs'))
const heap = new Uint8Array(zstdDecompressSync(readFileSync(frozen))).buffer
const [, length, runs, headerBytes] = new Uint32Array(heap, 0, 4)
const places = new Uint32Array(heap, 16 + headerBytes, runs * 2)

/** The core in a new engine; without `trampoline` as on a browser that cannot make one. */
async function restored(trampoline) {
  const pyodide = await loadPyodide({
    indexURL: runtime,
    stdLibURL: settings.stdlib,
    lockFileContents: settings.lock,
    packageBaseUrl: '/',
    env: {...settings.env},
    _sysExecutable: '/thickset',
    _loadSnapshot: new Uint8Array(heap.slice(16, 16 + headerBytes)),
    createPyodideModule: async (wishes) => {
      const module = await createModule(wishes)
      if (module.HEAPU8.length < length) module.growMemory(length)
      const place = (module.__PyRuntime + module.HEAP32[module.__PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET / 4]) / 4
      const own = module.HEAP32[place]
      let from = 16 + headerBytes + runs * 8
      for (let i = 0; i < places.length; i += 2) {
        module.HEAPU8.set(new Uint8Array(heap, from, places[i + 1]), places[i])
        from += places[i + 1]
      }
      module.HEAP32[place] = trampoline ? own : 0
      return module
    },
  })
  pyodide.globals.get('renew')()
  return pyodide
}

for (const trampoline of settings.faults ? [false, true] : []) {
  const pyodide = await restored(trampoline)
  const started = called.slice()
  const faults = pyodide.runPython(readFileSync(settings.faults, 'utf8'))
  called.set(started) // the compiler is not what the core calls
  faults()
}
let handle = (await restored(true)).globals.get('handle')
const answers = []
for (const line of readFileSync(requests, 'utf8').split('\n').filter(Boolean)) {
  try {
    answers.push(JSON.stringify(handle(JSON.parse(line))))
  } catch (error) {
    console.error(`${error}: ${line.slice(0, 200)}`)
    answers.push('null')
    handle = (await restored(true)).globals.get('handle')
  }
}
writeFileSync(out, answers.join('\n'))
if (called.includes(1)) writeFileSync(`${out}.called`, called)
process.exit(0)
