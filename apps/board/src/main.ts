import { mount } from 'svelte';
import App from './App.svelte';
import './board.css';

const target = document.getElementById('board');
if (target) mount(App, { target });
