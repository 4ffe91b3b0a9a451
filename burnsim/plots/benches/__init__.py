"""Pictures that hold a bench log against the model."""
