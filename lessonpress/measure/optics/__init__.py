"""How the lens bends straight lines: as the card states it, or solved from marks on lines of the room."""
