import { type ReactElement, useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { DrawingList } from '../../core/drawing';
import { LOOKS as INKS, paintCanvas } from '../../render';
import { useDeviceRatio } from '../canvas/useDeviceRatio';
import { during } from '../state/busy';
import { isStale, say, useDesk } from '../state/desk';
import { runErrand } from '../state/errands';

/** The pages of the design on the desk, drawn in the worker; the last ones stand until the new ones come. A newer design stops the drawing. */
function usePages(): { readonly list: DrawingList | null; readonly isBehind: boolean } {
  const design = useDesk((state) => state.design);
  const isDrawn = design !== null && design.beds.length > 0;
  const [drawn, setDrawn] = useState<{ readonly of: unknown; readonly list: DrawingList | null }>({
    of: null,
    list: null,
  });
  useEffect(() => {
    if (!isDrawn) {
      setDrawn({ of: design, list: null });
      return;
    }
    const leaving = new AbortController();
    const draw = (signal: AbortSignal): Promise<DrawingList> =>
      runErrand('sheet', { design }, AbortSignal.any([signal, leaving.signal]));
    during('Drawing the sheet', draw).then(
      (list) => {
        if (list && !leaving.signal.aborted) setDrawn({ of: design, list });
      },
      (error: unknown) => {
        if (!leaving.signal.aborted) say(`The sheet could not be drawn: ${String(error)}`, 'stop');
      },
    );
    return () => leaving.abort();
  }, [design, isDrawn]);
  return { list: isDrawn ? drawn.list : null, isBehind: drawn.of !== design };
}

/** The printed drawing itself, page by page: the very list that becomes the PDF. */
export function SheetPreview(): ReactElement {
  const hasBeds = useDesk((state) => (state.design?.beds.length ?? 0) > 0);
  const { list, isBehind } = usePages();
  const stale = useDesk(isStale) || isBehind;
  const [pageIndex, setPageIndex] = useState(0);
  const frame = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const [width, setWidth] = useState(900);
  const [zoom, setZoom] = useState(1);
  const ratio = useDeviceRatio();
  const page = list?.pages[Math.min(pageIndex, list.pages.length - 1)];

  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const watch = new ResizeObserver(([entry]) => {
      if (entry) setWidth(entry.contentRect.width);
    });
    watch.observe(element);
    return () => watch.disconnect();
  }, []);

  // Before the page is shown: an unpainted sheet would be seen as a small empty one.
  useLayoutEffect(() => {
    const element = canvas.current;
    const context = element?.getContext('2d');
    if (!element || !context || !page) return;
    const pixelsPerMm = ((width - 48) * zoom) / page.widthMm;
    element.width = Math.round(page.widthMm * pixelsPerMm * ratio);
    element.height = Math.round(page.heightMm * pixelsPerMm * ratio);
    element.style.width = `${page.widthMm * pixelsPerMm}px`;
    element.style.height = `${page.heightMm * pixelsPerMm}px`;
    const paint = (): void =>
      paintCanvas(context, page, INKS.print, { pixelsPerMm: pixelsPerMm * ratio, offsetX: 0, offsetY: 0 });
    paint();
    void document.fonts.ready.then(paint);
  }, [page, width, zoom, ratio]);

  return (
    <div className="preview" ref={frame}>
      {list ? (
        <div className="preview-bar">
          {list.pages.map((one, index) => (
            <button
              key={one.key}
              type="button"
              className={index === pageIndex ? 'act is-out' : 'act'}
              aria-pressed={index === pageIndex}
              aria-label={`${one.label} ${one.title}`}
              onClick={() => setPageIndex(index)}
            >
              {one.label}
              {list.pages[index - 1]?.title === one.title ? null : ` ${one.title}`}
            </button>
          ))}
          <span className="aside">
            {stale ? 'stale' : page?.scaleDenominator ? `1:${page.scaleDenominator}` : ''}
          </span>
          <button type="button" className="act" onClick={() => setZoom(zoom === 1 ? 2.5 : 1)}>
            {zoom === 1 ? 'Nearer' : 'Whole page'}
          </button>
        </div>
      ) : null}
      {page ? (
        <section
          className="preview-table"
          // biome-ignore lint/a11y/noNoninteractiveTabindex: a large page is scrolled by keyboard
          tabIndex={0}
          aria-label="Printed page"
        >
          <canvas
            ref={canvas}
            className="preview-page"
            role="img"
            aria-label={`Page ${page.label}: ${page.title}`}
          />
        </section>
      ) : (
        <p className="teach preview-empty">
          {hasBeds ? 'The page is being drawn.' : 'The printed page lies here once a bed has tubing.'}
        </p>
      )}
    </div>
  );
}
