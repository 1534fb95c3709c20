"""Words with times, probabilities and doubts from a recording, without a network."""

from capture.speech.checkpoints import default_folder as progress_folder
from capture.speech.model import SpeechModel, load_model
from capture.speech.transcribe import Progress, transcribe
from capture.speech.weights import WeightsError

__all__ = [
    "Progress",
    "SpeechModel",
    "WeightsError",
    "load_model",
    "progress_folder",
    "transcribe",
]
