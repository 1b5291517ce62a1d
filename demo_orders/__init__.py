"""An invented shop and three of its weeks; `python -m demo_orders.make` writes the workbooks."""
