"""What MkDocs' hooks call: drawing the tree of pages and bundling the engine for the browser."""
