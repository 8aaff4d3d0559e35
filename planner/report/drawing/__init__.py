"""The scale drawing of the room, painted on any device: screen, picture or paper."""
