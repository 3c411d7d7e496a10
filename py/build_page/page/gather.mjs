// node gather.mjs PACKAGES IN OUT FORM NAME...: write the modules NAME.js of IN, each with all that only it imports, as one file to OUT,
// without comments and with short names inside functions. FORM is es for a module, iife for a script. PACKAGES is the folder of npm's packages.
import {basename, join} from 'node:path'
import {pathToFileURL} from 'node:url'

const [packages, from, to, form, ...names] = process.argv.slice(2)
const load = (...path) => import(pathToFileURL(join(packages, ...path)).href)
const {rollup} = await load('@rollup', 'wasm-node', 'dist', 'es', 'rollup.js')
const {minify} = await load('terser', 'main.js')

/** What a browser does not need goes; the code is not computed anew, so that 'BUILT_LIST' stays where it is. */
const small = {
  name: 'small',
  renderChunk: (code) => minify(code, {compress: false, format: {quote_style: 1}}),
}

const made = await rollup({
  preserveEntrySignatures: 'allow-extension',
  input: Object.fromEntries(names.map((name) => [basename(name), join(from, `${name}.js`)])),
  plugins: [small],
  onwarn(warning) {
    throw new Error(warning.message)
  },
})
const {output} = await made.write({
  dir: to,
  format: form,
  indent: false,
  entryFileNames: '[name].js',
  chunkFileNames: '[name].js',
  generatedCode: 'es2015',
})
if (output.length !== names.length) throw new Error(`${output.map((one) => one.fileName)} came of ${names}`)
