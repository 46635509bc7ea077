"""The same app in a browser: who may open it, the server, and one app a page."""
