// node trim.mjs PYODIDE BINARYEN OUT: Pyodide without what only compiled packages would call.
//
// Pyodide exports every function and every datum that a package compiled to WebAssembly might link to: thousands, each given a
// name, a place in the function table and a variable at every start. Nothing here loads such a package. An export stays when
// its name stands anywhere in Pyodide's scripts but in the list of exports itself, or when the module links to itself by that name;
// what nothing reaches then goes too (Binaryen). The order of the function table stays, but for what is gone.
//
// Then Pyodide's script is made to start quicker, by what is known here: see `quicker`.
import {readFileSync, writeFileSync} from 'node:fs'
import {join} from 'node:path'
import {each, readWasm} from './wasm.mjs'

const [pyodide, tool, out] = process.argv.slice(2)
const read = (name) => readFileSync(join(pyodide, name), 'utf8')
const script = read('pyodide.asm.mjs')

const WORD = /[\w$]+/g
const HEAD = 'function assignWasmExports(wasmExports){'
const GIVEN = /^_[\w$]+=Module\["_[\w$]+"\]=wasmExports\["([\w$]+)"\](?:\.value(?:>>>0)?)?$/

const from = script.indexOf(HEAD) + HEAD.length
const to = script.indexOf('}', from)
if (from < HEAD.length) stop('pyodide.asm.mjs has no list of exports')
const lines = script.slice(from, to).split(';').filter(Boolean)
const variables = /(?<=[;}]var )[\w$]+(?:,[\w$]+){500,}(?=;)/.exec(script)
if (!variables) stop('pyodide.asm.mjs has no list of variables for its exports')

// How often each word stands in the scripts outside of the two lists.
const times = new Map()
for (const text of [script.slice(0, from), script.slice(to), read('pyodide.mjs')]) {
  for (const [word] of text.replace(variables[0], '').matchAll(WORD)) times.set(word, (times.get(word) ?? 0) + 1)
}
const named = new Set()
const kept = lines.filter((line) => {
  const name = GIVEN.exec(line)?.[1]
  const stays = !name || times.has(name) || times.has(`_${name}`)
  if (stays) for (const [word] of line.matchAll(WORD)) named.add(word)
  return stays
})
const stay = variables[0].split(',').filter((word) => times.has(word) || named.has(word))

const {binaryen, module} = await readWasm(tool, join(pyodide, 'pyodide.asm.wasm'))
const linked = each(module.getNumGlobals(), (n) => binaryen.getGlobalInfo(module.getGlobalByIndex(n)))
  .filter((one) => one.module?.startsWith('GOT.'))
  .map((one) => one.base)
const self = new Set(linked)
const exports = () => each(module.getNumExports(), (n) => binaryen.getExportInfo(module.getExportByIndex(n)))
const exported = exports().map(({name}) => name)
const wanted = exported.filter((name) => times.has(name) || named.has(name) || self.has(name))
if (wanted.length < 100 || wanted.length > exported.length / 2)
  stop(`${wanted.length} of ${exported.length} exports would stay`)
const wants = new Set(wanted)
for (const name of exported) if (!wants.has(name)) module.removeExport(name)
module.runPasses(['remove-unused-module-elements'])
if (!module.validate()) stop('the trimmed module is not valid')

writeFileSync(join(out, 'pyodide.asm.wasm'), module.emitBinary())
writeFileSync(
  join(out, 'pyodide.asm.mjs'),
  quicker(
    `${script.slice(0, from)}${kept.map((line) => `${line};`).join('')}${script.slice(to)}`.replace(
      variables[0],
      stay.join(','),
    ),
  ),
)
console.log(`${wanted.length} of ${exported.length} exports stay`)

/**
 * The same script without two things that it does at each start: make an object of every entry of the function table, to know
 * the places of those that are exported; and call Python's compiler for what is imported already.
 */
function quicker(text) {
  const changes = [
    ['functionsInTableMap=new WeakMap;updateTableMap(0,wasmTable.length)', 'functionsInTableMap=new WeakMap'],
    ['var updateGOT=', `var placesInTable=${JSON.stringify(placesInTable())};var updateGOT=`],
    ['newValue=addFunction(value)}', 'newValue=placesInTable[symName]??addFunction(value)}'],
    ['let[r,n]=API.rawRun("import _pyodide_core")', 'let[r,n]=t?[0]:API.rawRun("import _pyodide_core")'],
    ['=API._pyodide._base.eval_code("{}")', '=API._pyodide._base.__builtins__.get("dict")()'],
    ['=API.runPythonInternal("import importlib; importlib")', '=API._pyodide._importhook.sys.modules.get("importlib")'],
    ['=API.runPythonInternal("import __main__; __main__.__dict__")', '=o("__main__").__dict__'],
    ['=API.runPythonInternal("import builtins; builtins.__dict__")', '=o("builtins").__dict__'],
  ]
  for (const [was, is] of changes) {
    if (text.split(was).length !== 2) stop(`pyodide.asm.mjs does not have once: ${was}`)
    text = text.replace(was, () => is)
  }
  return text
}

/** Where in the function table the exported functions stand that stand there. */
function placesInTable() {
  const {data, offset} = binaryen.getElementSegmentInfo(module.getElementSegmentByIndex(0))
  const first = binaryen.getExpressionInfo(offset).value
  const places = new Map(data.map((name, n) => [name, first + n]))
  return Object.fromEntries(
    exports()
      .filter(({value}) => places.has(value))
      .map(({name, value}) => [name, places.get(value)]),
  )
}

function stop(why) {
  console.error(`error: ${why}; see 'Raising Pyodide' in py/build_page/frozen/README.md`)
  process.exit(1)
}
