import { render } from 'preact';

const place = document.getElementById('bench');
if (place) render(<main />, place);
