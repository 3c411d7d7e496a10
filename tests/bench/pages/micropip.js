import {address, BUILD, done, options, PYODIDE, request} from './common.js'

const {loadPyodide} = await import(`${PYODIDE}pyodide.mjs`)
const asked = request()
const pyodide = await loadPyodide(options())
await pyodide.loadPackage('micropip', {messageCallback() {}})
await pyodide.pyimport('micropip').install.callKwargs(BUILD.plain.install.map(address), {deps: false})
done(JSON.parse(pyodide.pyimport('thickset.doors.api').handle(await asked)))
