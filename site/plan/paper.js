// What goes on paper: html that only the core made, put where only a printer sees it.

/** @import {Ask, JobDocument} from '../base/types.js' */

/** @param {HTMLElement} root @param {{ask: Ask, onTrouble: () => void}} handlers */
export function createPaper(root, {ask, onTrouble}) {
  const page = document.documentElement
  window.addEventListener('afterprint', () => {
    delete page.dataset.paper
    root.replaceChildren()
  })

  return {
    /**
     * Prints what the core makes of the job.
     * @param {'sheet' | 'tags' | 'report'} kind
     * @param {JobDocument} job
     */
    async print(kind, job) {
      // The page's address goes along for the code on the sheet.
      const said = await ask({ask: kind, job, page: `${location.origin}${location.pathname}`}, 'paper')
      if (!said) return
      if (!said.ok) {
        onTrouble()
        return
      }
      this.put(kind, said.html[kind])
    },
    /** Prints what the core made already. @param {string} kind @param {string} html */
    put(kind, html) {
      root.innerHTML = html
      page.dataset.paper = kind
      window.print()
    },
  }
}
