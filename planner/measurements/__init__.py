"""What others measured: decays of rooms, curves of loudspeakers, the noise of a room."""
