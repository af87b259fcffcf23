// The limits have to stand before the library takes its first piece of memory.
import './readerLimits';
import 'pdfjs-dist/legacy/build/pdf.worker.mjs';
