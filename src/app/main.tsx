import '../worker';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './App';
import './look/fonts.css';
import './look/tokens.css';
import './look/page.css';
import './look/sketch.css';
import { beginDesk } from './state/begin';

const place = document.getElementById('desk');
if (!place) throw new Error('the page has no place for the desk');
void beginDesk();
createRoot(place).render(
  <StrictMode>
    <App />
  </StrictMode>,
);
