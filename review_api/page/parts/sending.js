// A form that is sent at once, outside the row of changes: what follows the seal.
import { useState } from "../html.js";
import { paths, send } from "../api.js";
import { readDesk } from "../desk.js";

/** Sends a form's body and reads the inspection again; [{busy, message}, submit]. */
export function useSending(desk, path, done) {
  const [state, setState] = useState({});
  const submit = async (json) => {
    setState({ busy: true });
    try {
      const answer = await send("POST", `${paths.inspection(desk.id)}/${path}`, json);
      await readDesk(desk.id);
      setState({});
      done(answer);
    } catch (error) {
      setState({ message: error.message });
    }
  };
  return [state, submit];
}
