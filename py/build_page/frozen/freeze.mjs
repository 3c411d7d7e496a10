// node freeze.mjs PYODIDE MODULES.zip SETTINGS.json WARM.py OUT: warm Python up, then write what its memory holds.
//
// Writes OUT.heap (the memory), OUT.fresh and OUT.bare (the memory of a new instance after and before its own start), and
// OUT.header (what Pyodide keeps beside the memory). All bytes are the same on every run and in every folder: clocks stand
// still, chance is a fixed sequence, and no path of this machine gets into the memory.
import {readFileSync, writeFileSync} from 'node:fs'
import {createRequire} from 'node:module'
import {join} from 'node:path'

const [pyodideFolder, modules, settingsFile, warm, out] = process.argv.slice(2)
const settings = JSON.parse(readFileSync(settingsFile, 'utf8'))
const HEADER_WORDS = 12 // magic, where the memory starts, the bytes of the text after this, unused, 8 words of build id

stopClocks(0)
fixChance()
process.argv[1] = '/thickset'
const {loadPyodide} = await import(join(pyodideFolder, 'pyodide.mjs'))
const {default: createModule} = await import(join(pyodideFolder, 'pyodide.asm.mjs'))
const options = () => ({
  indexURL: pyodideFolder,
  stdLibURL: modules,
  lockFileContents: settings.lock,
  packageBaseUrl: '/',
  env: {...settings.env},
  _sysExecutable: '/thickset',
})

const pyodide = await loadPyodide({...options(), _makeSnapshot: true})
pyodide.globals.set('requests', settings.requests.join('\n'))
try {
  pyodide.runPython(readFileSync(warm, 'utf8'))
} catch (error) {
  console.error(`error: ${error.message.trim().split('\n').pop()}`)
  process.exit(1)
}
blankFreeMemory(pyodide._module)
const snapshot = pyodide.makeMemorySnapshot()
const [, start] = new Uint32Array(snapshot.buffer, 0, HEADER_WORDS)
forgetTrampoline(pyodide._module, snapshot.subarray(start))
writeFileSync(`${out}.heap`, snapshot.subarray(start))
writeFileSync(`${out}.header`, snapshot.subarray(0, start))
stopClocks(123456789) // what an instance writes of a clock at its own start must show
const {bare, fresh} = await newInstance(snapshot.slice(0, start))
writeFileSync(`${out}.bare`, bare)
writeFileSync(`${out}.fresh`, fresh)

/** The memory of an instance that has run nothing yet, and of one that is about to be filled. */
async function newInstance(header) {
  const done = new Error('all that is wanted is here')
  let bare, fresh
  const createPyodideModule = async (emscripten) => {
    const instantiate = emscripten.instantiateWasm
    emscripten.instantiateWasm = (imports, next) =>
      instantiate(imports, (instance, module) => {
        bare = new Uint8Array(instance.exports.memory.buffer).slice()
        next(instance, module)
      })
    fresh = (await createModule(emscripten)).HEAPU8.slice()
    throw done
  }
  await loadPyodide({...options(), _loadSnapshot: header, createPyodideModule}).catch((error) => {
    if (error !== done) throw error
  })
  return {bare, fresh}
}

/** Fill the free memory below the last used byte with zeros: what was freed there would be shipped. */
function blankFreeMemory(module) {
  const memory = () => module.HEAPU8
  let end = memory().length
  while (module.HEAPU32[end / 4 - 1] === 0) end -= 4
  const taken = []
  for (let size = 1 << 22; size >= 12; size = size > 64 ? size >> 1 : size - 4) {
    for (;;) {
      const place = module._malloc(size)
      if (!place || place + size > end) {
        module._free(place)
        break
      }
      memory().fill(0, place, place + size)
      taken.push(place)
    }
  }
  for (const place of taken) module._free(place)
}

/** The function through which Python calls C functions is this Node's own; `start.js` puts in the browser's. */
function forgetTrampoline({HEAP32, __PyRuntime, __PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET}, memory) {
  const place = __PyRuntime + HEAP32[__PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET / 4]
  memory.fill(0, place, place + 4)
}

function stopClocks(milliseconds) {
  const Clock = Date
  const instant = Clock.UTC(2026, 0, 1) + milliseconds
  globalThis.Date = class extends Clock {
    constructor(...given) {
      super(...(given.length ? given : [instant]))
    }
    static now() {
      return instant
    }
  }
  performance.now = () => milliseconds
  process.hrtime = Object.assign(() => [milliseconds / 1e3, 0], {bigint: () => BigInt(milliseconds) * 1000000n})
}

function fixChance() {
  let state = 1
  const fill = (buffer) => {
    const bytes = new Uint8Array(buffer.buffer, buffer.byteOffset, buffer.byteLength)
    for (let i = 0; i < bytes.length; i += 1) {
      state = (Math.imul(state, 1103515245) + 12345) >>> 0
      bytes[i] = state >>> 24
    }
    return buffer
  }
  createRequire(import.meta.url)('node:crypto').randomFillSync = fill
  globalThis.crypto.getRandomValues = fill
}
