"""From a design and its solids to drawings: values in millimetres that any writer can put down."""
