"""The pipeline as durable steps: killed at any moment, it goes on where it was at the next start.

`queue` hands work in, in the same transaction that stores the inspection; `worker` runs it in this process;
`pipeline` says which steps there are and in what order; `steps` does them.
"""
