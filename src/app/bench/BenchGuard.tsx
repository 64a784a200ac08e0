import { Component, type ReactNode } from 'react';

interface Props {
  readonly children: ReactNode;
  /** Drawing in 3D failed: the rest of the page goes on. */
  onFailed(): void;
}

/** Keeps what goes wrong in the 3D drawing from taking the page with it. */
export class BenchGuard extends Component<Props, { readonly failed: boolean }> {
  override state = { failed: false };
  static getDerivedStateFromError(): { failed: boolean } {
    return { failed: true };
  }
  override componentDidCatch(): void {
    this.props.onFailed();
  }
  override render(): ReactNode {
    return this.state.failed ? null : this.props.children;
  }
}
