// node count.mjs RUNTIME BINARYEN OUT: a runtime that tells each function that is called, by its place in the code, to the
// import lean.called; and OUT/calls.json, of each function what it calls by name, and which are exported.
import {copyFileSync, writeFileSync} from 'node:fs'
import {join} from 'node:path'
import {each, readWasm} from './wasm.mjs'

const [runtime, tool, out] = process.argv.slice(2)
const {binaryen, module} = await readWasm(tool, join(runtime, 'pyodide.asm.wasm'))
const functions = each(module.getNumFunctions(), (n) => module.getFunctionByIndex(n)).filter(
  (one) => !binaryen.getFunctionInfo(one).module,
)
const places = new Map(functions.map((one, n) => [binaryen.getFunctionInfo(one).name, n]))
const exported = each(module.getNumExports(), (n) => binaryen.getExportInfo(module.getExportByIndex(n)))
  .filter(({kind, value}) => kind === binaryen.ExternalFunction && places.has(value))
  .map(({value}) => places.get(value))

const calls = functions.map(() => [])
let at
for (const line of module.emitText().split('\n')) {
  const [, head, target] = /^ \(func \$(\d+)|\(call \$(\d+)/.exec(line) ?? []
  if (head) at = calls[places.get(head)]
  else if (places.has(target)) at.push(places.get(target))
}
writeFileSync(join(out, 'calls.json'), JSON.stringify({exported, calls}))

module.addFunctionImport('called', 'lean', 'called', binaryen.createType([binaryen.i32]), binaryen.none)
functions.forEach((one, n) => {
  const body = binaryen.Function.getBody(one)
  const tells = module.call('called', [module.i32.const(n)], binaryen.none)
  binaryen.Function.setBody(one, module.block(null, [tells, body], binaryen.getFunctionInfo(one).results))
})
if (!module.validate()) throw new Error('the module that counts is not valid')
writeFileSync(join(out, 'pyodide.asm.wasm'), module.emitBinary())
for (const name of ['pyodide.mjs', 'pyodide.asm.mjs']) copyFileSync(join(runtime, name), join(out, name))
