// node squeeze.mjs PYODIDE FORM FILE OUT: pack a file by Pyodide's own zlib (gzip) or zstd, whose bytes are the same on every machine.
import {readFileSync, writeFileSync} from 'node:fs'
import {join} from 'node:path'

const [pyodideFolder, form, file, out] = process.argv.slice(2)
const {loadPyodide} = await import(join(pyodideFolder, 'pyodide.mjs'))
const pyodide = await loadPyodide({indexURL: pyodideFolder})
pyodide.FS.writeFile('/tmp/in', readFileSync(file))
pyodide.globals.set('form', form)
pyodide.runPython(`
import gzip
from compression import zstd
from pathlib import Path

data = Path('/tmp/in').read_bytes()
if form == 'gzip':  # as most hosts do
    packed = gzip.compress(data, 6, mtime=0)
else:  # 22, the highest level, takes longer and gains 0.1 %
    wish = zstd.CompressionParameter
    packed = zstd.compress(data, options={wish.compression_level: 19, wish.checksum_flag: True})
Path('/tmp/out').write_bytes(packed)
`)
writeFileSync(out, pyodide.FS.readFile('/tmp/out'))
