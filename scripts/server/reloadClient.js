/** In pages under work only: loads the page anew when the server says that it was built anew. */
new EventSource("reload").addEventListener("message", () => location.reload());
