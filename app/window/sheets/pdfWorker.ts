/** What reads PDFs, as a worker of the page's own: under the page's policy, from the same place. */
import 'pdfjs-dist/legacy/build/pdf.worker.mjs'
