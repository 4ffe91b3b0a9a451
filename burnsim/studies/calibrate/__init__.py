"""What bench logs tell about the uncertain factors."""
