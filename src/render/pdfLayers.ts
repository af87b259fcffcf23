import type { jsPDF } from 'jspdf';
import type { DrawingList } from '../core/drawing';

/** The slice of the library's inner workings that layers and page labels need; held to one version by the lock file. */
interface Inner {
  readonly newObject: () => number;
  readonly out: (text: string) => void;
  readonly pdfEscape: (text: string) => string;
}

/** Adds the optional-content groups of the list's layers. Returns the resource name of a layer, or null for one the list does not name. */
export function addLayers(doc: jsPDF, list: DrawingList): (layer: string) => string | null {
  const inner = doc.internal as unknown as Inner;
  const names = new Map(list.layers.map((layer, i) => [layer.key, `L${i}`]));
  const objects: number[] = [];
  doc.internal.events.subscribe('putResources', () => {
    for (const layer of list.layers) {
      objects.push(inner.newObject());
      inner.out(`<< /Type /OCG /Name (${inner.pdfEscape(layer.name)}) >>`);
      inner.out('endobj');
    }
  });
  // The event comes inside the XObject dictionary: close it and leave ours to be closed in its stead.
  doc.internal.events.subscribe('putXobjectDict', () => {
    inner.out('>>');
    inner.out(`/Properties << ${objects.map((id, i) => `/L${i} ${id} 0 R`).join(' ')}`);
  });
  doc.internal.events.subscribe('putCatalog', () => {
    const all = objects.map((id) => `${id} 0 R`).join(' ');
    inner.out(`/OCProperties << /OCGs [${all}] /D << /Order [${all}] /ON [${all}] >> >>`);
  });
  return (layer) => names.get(layer) ?? null;
}

/** Gives every page the label printed on it. */
export function addPageLabels(doc: jsPDF, list: DrawingList): void {
  const inner = doc.internal as unknown as Inner;
  doc.internal.events.subscribe('putCatalog', () => {
    const labels = list.pages.map((page, i) => `${i} << /P (${inner.pdfEscape(page.label)}) >>`);
    inner.out(`/PageLabels << /Nums [${labels.join(' ')}] >>`);
  });
}
