"""Which proposed violations were put right during the visit, told from promises."""
