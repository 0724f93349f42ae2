"""Blade retention of heavy multirotor propellers: loads, margins, screws."""
