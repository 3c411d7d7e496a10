// node gather.mjs ROLLUP IN OUT FORM NAME...: write the modules NAME.js of IN, each with all that only it imports, as one file to OUT.
// FORM is es for a module, iife for a script.
import {basename, join} from 'node:path'
import {pathToFileURL} from 'node:url'

const [tool, from, to, form, ...names] = process.argv.slice(2)
const {rollup} = await import(pathToFileURL(join(tool, 'dist', 'es', 'rollup.js')).href)
const made = await rollup({
  preserveEntrySignatures: 'allow-extension',
  input: Object.fromEntries(names.map((name) => [basename(name), join(from, `${name}.js`)])),
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
