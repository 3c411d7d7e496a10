// Reads a module with Binaryen, which writes it as it was: with what the module uses, and no newer form.
import {readFileSync} from 'node:fs'
import {join} from 'node:path'
import {pathToFileURL} from 'node:url'

const USES =
  'BulkMemory BulkMemoryOpt ExceptionHandling ExtendedConst Multivalue MutableGlobals NontrappingFPToInt ReferenceTypes SignExt'

/** @param {string} tool the folder of Binaryen @param {string} file */
export async function readWasm(tool, file) {
  const {default: binaryen} = await import(pathToFileURL(join(tool, 'index.js')).href)
  const features = USES.split(' ').reduce((sum, name) => sum | binaryen.Features[name], 0)
  const module = binaryen.readBinary(readFileSync(file), features)
  module.setFeatures(features)
  return {binaryen, module}
}

/** What `get` gives for each of so many numbers. @template T @param {number} count @param {(n: number) => T} get */
export const each = (count, get) => Array.from({length: count}, (_, n) => get(n))
