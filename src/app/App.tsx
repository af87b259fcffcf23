import { type ReactElement, useEffect } from 'react';
import { listenForKeys } from './actions/keys';
import { Rule } from './canvas/Rule';
import { Sketch } from './canvas/Sketch';
import { Figures } from './pages/Figures';
import { SheetPreview } from './pages/SheetPreview';
import { FindAction } from './parts/FindAction';
import { Header } from './parts/Header';
import { QuestionLeaf } from './parts/QuestionLeaf';
import { Steps } from './parts/Steps';
import { Welcome } from './parts/Welcome';
import { Help } from './start/Help';
import { Start } from './start/Start';
import { Unsaved } from './start/Unsaved';
import { WalkThrough } from './start/WalkThrough';
import { useDesk } from './state/desk';

/** The field book lying open: steps in the fore-edge, figures on the left page, the sketch on the right, the rule under it. */
export function App(): ReactElement {
  const panel = useDesk((state) => state.panel);
  const isSheet = useDesk((state) => state.step === 'sheet');
  useEffect(listenForKeys, []);
  return (
    <>
      <div className="book">
        <Steps />
        <Figures />
        <main className="drawing">
          <Header />
          <Welcome />
          {isSheet ? <SheetPreview /> : <Sketch />}
          {isSheet ? null : <Rule />}
        </main>
      </div>
      {panel === 'actions' ? <FindAction /> : null}
      {panel === 'help' ? <Help /> : null}
      {panel === 'start' ? <Start /> : null}
      {panel === 'walk-through' ? <WalkThrough /> : null}
      {panel === 'question' ? <QuestionLeaf /> : null}
      {panel === 'unsaved' ? <Unsaved /> : null}
    </>
  );
}
