import { type ReactElement, useEffect, useMemo, useRef } from 'react';
import { drawPlots } from '../../core/drawing';
import { paintCanvas } from '../../render';
import { useDeviceRatio } from '../canvas/useDeviceRatio';
import { usePalette } from '../canvas/usePalette';
import { useDesk } from '../state/desk';

/** Width of a plot in the page beside the sketch, and how large its millimetre stands there. */
const WIDTH_PX = 300;
const PIXELS_PER_MM = 6;

/** Plots of the design whose key begins so, as the calculations print them, in the colours of the look. */
export function Plots(props: { readonly of: string; readonly isTitled?: boolean }): ReactElement {
  const design = useDesk((state) => state.design);
  const pages = useMemo(
    () => (design ? drawPlots(design, WIDTH_PX / PIXELS_PER_MM, props.of) : []),
    [design, props.of],
  );
  return (
    <>
      {pages.map((page) => (
        <Plot key={page.key} page={page} isTitled={props.isTitled === true} />
      ))}
    </>
  );
}

function Plot(props: {
  readonly page: ReturnType<typeof drawPlots>[number];
  readonly isTitled: boolean;
}): ReactElement {
  const { page } = props;
  const palette = usePalette();
  const ratio = useDeviceRatio();
  const canvas = useRef<HTMLCanvasElement>(null);
  const heightPx = page.heightMm * PIXELS_PER_MM;
  useEffect(() => {
    const element = canvas.current;
    const context = element?.getContext('2d');
    if (!element || !context) return;
    element.width = Math.round(WIDTH_PX * ratio);
    element.height = Math.round(heightPx * ratio);
    const view = { pixelsPerMm: PIXELS_PER_MM * ratio, offsetX: 0, offsetY: 0, paper: false };
    const paint = (): void => {
      context.clearRect(0, 0, element.width, element.height);
      paintCanvas(context, page, palette.ink, view);
    };
    paint();
    void document.fonts.ready.then(paint);
  }, [page, palette, heightPx, ratio]);
  return (
    <figure className="plot">
      {props.isTitled ? <figcaption>{page.title}</figcaption> : null}
      <canvas ref={canvas} style={{ width: WIDTH_PX, height: heightPx }} role="img" aria-label={page.title} />
    </figure>
  );
}
