/** Keeps the panel when a view fails: says what happened and offers to begin that view anew. */
import { Button, MessageBar, MessageBarBody } from "@fluentui/react-components";
import { Component, type ReactNode } from "react";
import { messageOf } from "./messageOf";

interface Props {
  /** Name of the view, as its tab has it. */
  readonly name: string;
  /** Forgets what was chosen in the view; undefined where nothing is kept for it. */
  readonly onForget: (() => void) | undefined;
  readonly children: ReactNode;
}

export class ViewGuard extends Component<Props, { readonly problem?: string }> {
  override state: { readonly problem?: string } = {};

  static getDerivedStateFromError(problem: unknown) {
    return { problem: messageOf(problem) };
  }

  override render() {
    const { name, onForget, children } = this.props;
    const { problem } = this.state;
    if (problem === undefined) return children;
    const again = () => this.setState({ problem: undefined });
    return (
      <MessageBar intent="error" layout="multiline">
        <MessageBarBody>
          {`The ${name} view could not be shown: ${problem.replace(/\.$/, "")}. The workbook and the other views are as they were. Undo the last choice above or change the cells, then try again; or begin this view anew.`}
          <div style={{ display: "flex", flexWrap: "wrap", gap: "8px", padding: "6px 0" }}>
            <Button size="small" onClick={again}>
              Try again
            </Button>
            {onForget && (
              <Button
                size="small"
                onClick={() => {
                  onForget();
                  again();
                }}
              >
                Begin this view anew
              </Button>
            )}
          </div>
        </MessageBarBody>
      </MessageBar>
    );
  }
}
