import type Konva from 'konva';
import { type ReactElement, useEffect, useMemo, useRef, useState } from 'react';
import { Layer, Shape, Stage } from 'react-konva';
import { useDesk } from '../state/desk';
import { showWhole } from '../state/selection';
import { useTool } from '../state/tools';
import { useView } from '../state/view';
import { EdgeSlip } from './EdgeSlip';
import { FindingSlip } from './FindingSlip';
import { Legend } from './Legend';
import { NorthMark } from './NorthMark';
import { Overlay } from './Overlay';
import { createPlate } from './plate';
import { Spoken } from './Spoken';
import { useDeviceRatio } from './useDeviceRatio';
import { useHand } from './useHand';
import { usePalette } from './usePalette';
import { useScene } from './useScene';
import { useSketchKeys } from './useSketchKeys';

/** The view is at rest this long after its last move. */
const STILL_MS = 140;

/** The sketch page: the plan to scale, with what the hand is doing on top of it. */
export function Sketch(): ReactElement {
  const frame = useRef<HTMLDivElement>(null);
  const base = useRef<Konva.Layer>(null);
  const stage = useRef<Konva.Stage>(null);
  const deviceRatio = useDeviceRatio();
  const plate = useMemo(createPlate, []);
  const palette = usePalette();
  const scene = useScene(() => base.current?.batchDraw());
  const latest = useRef({ palette, scene });
  const isStill = useRef(true);
  const [size, setSize] = useState({ width: 800, height: 600 });
  const planId = useDesk((state) => state.history.plan.id);
  const isDrawing = useTool((state) => state.key !== null);

  useEffect(() => {
    latest.current = { palette, scene };
    base.current?.batchDraw();
  }, [palette, scene]);

  useEffect(() => {
    for (const layer of stage.current?.getLayers() ?? []) {
      layer.getCanvas().setPixelRatio(deviceRatio);
      layer.batchDraw();
    }
  }, [deviceRatio]);

  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const watch = new ResizeObserver(([entry]) => {
      if (!entry) return;
      const { width, height } = entry.contentRect;
      setSize({ width, height });
      const isFirst = useView.getState().widthPx === 800;
      useView.setState({ widthPx: width, heightPx: height });
      if (isFirst) showWhole();
    });
    watch.observe(element);
    return () => watch.disconnect();
  }, []);

  // biome-ignore lint/correctness/useExhaustiveDependencies: another plan is the reason to show the whole of it
  useEffect(() => showWhole(), [planId]);

  useEffect(() => {
    let timer = 0;
    const publish = (): void => {
      const { screen, pixelsPerM } = useView.getState().view;
      if (frame.current) frame.current.dataset.view = `${screen.x} ${screen.y} ${pixelsPerM}`;
    };
    publish();
    return useView.subscribe(() => {
      publish();
      isStill.current = false;
      base.current?.batchDraw();
      clearTimeout(timer);
      timer = window.setTimeout(() => {
        isStill.current = true;
        base.current?.batchDraw();
      }, STILL_MS);
    });
  }, []);

  useHand(frame);
  const onKeyDown = useSketchKeys();

  return (
    <div
      ref={frame}
      id="sketch"
      className={isDrawing ? 'sketch is-drawing' : 'sketch'}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: the sketch is worked by keyboard
      tabIndex={0}
      role="application"
      aria-label="Sketch of the plan"
      aria-describedby="sketch-help"
      onKeyDown={onKeyDown}
    >
      <p id="sketch-help" className="unseen">
        Arrow keys move the view, the hair while drawing, or what is chosen. Comma and full stop choose the
        item before or after, &lt; and &gt; its corners. Everything on the plan is also listed under Contents.
      </p>
      <Spoken />
      <Stage ref={stage} width={size.width} height={size.height} listening={false}>
        <Layer ref={base} listening={false}>
          <Shape
            listening={false}
            perfectDrawEnabled={false}
            sceneFunc={(context) => {
              const { view, widthPx, heightPx } = useView.getState();
              plate.draw(context._context as CanvasRenderingContext2D, {
                view,
                widthPx,
                heightPx,
                // The canvas's own ratio: it follows the window's a moment later.
                deviceRatio: base.current?.getCanvas().getPixelRatio() ?? 1,
                palette: latest.current.palette,
                scene: latest.current.scene,
                isStill: isStill.current,
              });
            }}
          />
        </Layer>
        <Overlay palette={palette} />
      </Stage>
      <Legend />
      <NorthMark />
      <EdgeSlip />
      <FindingSlip />
    </div>
  );
}
