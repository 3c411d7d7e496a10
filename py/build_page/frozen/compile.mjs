// node compile.mjs PYODIDE OUT ZIP...: write the modules and data of some zip files, compiled by Pyodide, into one zip file.
import {readFileSync, writeFileSync} from 'node:fs'
import {join} from 'node:path'

const [pyodideFolder, out, ...zips] = process.argv.slice(2)
const {loadPyodide} = await import(join(pyodideFolder, 'pyodide.mjs'))
// The order of a set in a compiled module follows the hash seed; of a line, its number is enough.
const env = {PYTHONHASHSEED: '0', PYTHONNODEBUGRANGES: '1'}
const pyodide = await loadPyodide({indexURL: pyodideFolder, env})
const names = zips.map((zip, i) => {
  pyodide.FS.writeFile(`/tmp/${i}.zip`, readFileSync(zip))
  return `/tmp/${i}.zip`
})
pyodide.runPython(readFileSync(new URL('./compiled.py', import.meta.url), 'utf8'))
pyodide.globals.get('compiled')(pyodide.toPy(names), '/tmp/out.zip')
writeFileSync(out, pyodide.FS.readFile('/tmp/out.zip'))
