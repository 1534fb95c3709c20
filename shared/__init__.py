"""What the stages share: types, units, rules, vocabulary. Imports none of the stages."""
