"""What kinds share: common fields, what they see of a picture, geometry, pens, turns of phrase."""
