// Runs before the page's own scripts: when the first outcome is painted, tasks of over 50 ms, how
// long each press or key takes until its next paint, and what the layout shifts by.
window.seen = { computed: 0, painted: 0, tasks: [], presses: {}, shift: 0 };
function watch(type, take, more) {
  new PerformanceObserver((list) => list.getEntries().forEach(take)).observe({ type, buffered: true, ...more });
}
watch('longtask', (task) => window.seen.tasks.push([task.startTime, task.duration]));
watch('layout-shift', (shift) => { if (!shift.hadRecentInput) window.seen.shift += shift.value; });
watch('event', ({ interactionId, duration }) => {
  const { presses } = window.seen;
  if (interactionId) presses[interactionId] = Math.max(presses[interactionId] ?? 0, duration);
}, { durationThreshold: 16 });

const channel = new MessageChannel();
channel.port1.onmessage = () => { window.seen.painted = performance.now(); };
new MutationObserver((_, watcher) => {
  if (!document.documentElement?.hasAttribute('data-ready')) return;
  watcher.disconnect();
  window.seen.computed = performance.now();
  requestAnimationFrame(() => channel.port2.postMessage(null));
}).observe(document, { attributes: true, childList: true, subtree: true, attributeFilter: ['data-ready'] });
