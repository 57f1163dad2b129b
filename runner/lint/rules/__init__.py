"""The lint rules, a theme a file; `RULE_MODULES` in rule.py lists them."""
