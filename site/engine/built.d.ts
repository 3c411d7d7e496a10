// What the build writes into built.js: see write_settings in py/build_page/page/assemble.py.

export declare const BUILD: {
  version: string
  /** The folder of Pyodide. */
  runtime: string
  env: Record<string, string>
  lock: object
  frozen: {file: string; magic: number; memory: number}
  plain: {folder: string; stdlib: string; installer: string; install: string[]}
  /** The size of each file, and over the wire. */
  bytes: Record<string, [size: number, compressed: number]>
}
