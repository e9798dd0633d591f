import '../plan/no-eval.ts';
import './styles/tokens.css';
import './styles/base.css';
import { mount } from 'svelte';
import App from './app.svelte';

mount(App, { target: document.getElementById('app') as HTMLElement });
