"""What a bound lesson says: numbers, keys, alt texts, rows of the ledger."""
