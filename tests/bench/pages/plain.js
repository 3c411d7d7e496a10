import {address, BUILD, done, options, PYODIDE, request} from './common.js'

const {loadPyodide} = await import(`${PYODIDE}pyodide.mjs`)
const asked = request()
const wheels = BUILD.plain.install.map((file) => fetch(address(file)).then((response) => response.arrayBuffer()))
const pyodide = await loadPyodide(options())
for (const wheel of wheels) pyodide.unpackArchive(await wheel, 'wheel')
done(JSON.parse(pyodide.pyimport('thickset.doors.api').handle(await asked)))
