"""How the guide is shown: explanatory pages, theme, the browser's small scripts, the build."""
