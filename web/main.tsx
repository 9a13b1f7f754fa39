import '@fontsource/source-serif-4/400.css';
import '@fontsource/source-serif-4/400-italic.css';
import '@fontsource/source-serif-4/600.css';
import './style/index.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { Pages } from './pages.tsx';

const place = document.getElementById('pages');
if (place === null) throw new Error('index.html has no place for the pages');
createRoot(place).render(
  <StrictMode>
    <Pages />
  </StrictMode>,
);
