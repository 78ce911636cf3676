"""What is drawn: diagram, sketch, charts, and the pieces of SVG that they are made of."""
