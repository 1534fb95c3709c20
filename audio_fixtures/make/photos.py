def make(folder, truth):
    pass
