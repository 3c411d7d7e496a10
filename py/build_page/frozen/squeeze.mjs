// node squeeze.mjs PYODIDE LEVEL FILE OUT: gzip a file by Pyodide's own zlib, whose bytes are the same on every machine.
import {readFileSync, writeFileSync} from 'node:fs'
import {join} from 'node:path'

const [pyodideFolder, level, file, out] = process.argv.slice(2)
const {loadPyodide} = await import(join(pyodideFolder, 'pyodide.mjs'))
const pyodide = await loadPyodide({indexURL: pyodideFolder})
pyodide.FS.writeFile('/tmp/in', readFileSync(file))
pyodide.globals.set('level', Number(level))
pyodide.runPython(`
import gzip
from pathlib import Path
Path('/tmp/out').write_bytes(gzip.compress(Path('/tmp/in').read_bytes(), level, mtime=0))
`)
writeFileSync(out, pyodide.FS.readFile('/tmp/out'))
