"""What is measured: how well affinity predicts, how fast the service answers."""
